//! A write of the test's own, which it can hold up while it is being carried out.

use std::cell::RefCell;
use std::rc::Rc;

use actix_web::test::{TestRequest, call_service, init_service};
use actix_web::{App, HttpResponse, web};
use api::auth::Scope;
use api::auth::role::Role;
use api::entities::accounts::{Column, Entity};
use api::http::{Answer, ApiError, Body};
use api::v1::growers::store::{NewGrower, insert};
use api::writes::{Actor, Done, Touched, Write};
use sea_orm::{ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter};
use serde_json::{Value, json};
use tests::{TestApp, User};
use uuid::Uuid;

/// `POST /v1/growers` as the service sees it: a handler gets it as its argument.
pub(super) async fn write(key: &str, body: &Value) -> Write {
    let taken: Rc<RefCell<Option<Write>>> = Rc::default();
    let slot = taken.clone();
    let handler = move |write: Write, _body: Body<Value>| {
        slot.replace(Some(write));
        async { HttpResponse::Ok().finish() }
    };
    let service = init_service(App::new().route("/v1/growers", web::post().to(handler))).await;
    let request = TestRequest::post().uri("/v1/growers").insert_header(("idempotency-key", key));
    let response = call_service(&service, request.set_json(body).to_request()).await;
    assert!(response.status().is_success());
    drop(response);
    taken.take().expect("the handler was called")
}

/// The account of a user.
pub(super) async fn actor(app: &TestApp, user: &User) -> Actor {
    let id = Uuid::parse_str(&user.account_id).expect("an id");
    let found = Entity::find().filter(Column::Id.eq(id)).one(&app.state().db).await;
    let account = found.expect("query").expect("an account");
    let actor = Actor::from(&account);
    assert_eq!((actor.account_id, actor.role), (id, Role::Lead));
    actor
}

/// Makes a grower in a transaction.
pub(super) async fn make(
    app: &TestApp,
    tx: &DatabaseTransaction,
    by: Actor,
    name: &str,
) -> Result<Done<Value>, ApiError> {
    let (id, now) = (app.state().ids.next(), app.state().clock.now());
    let name = name.to_owned();
    let new = NewGrower { name, advisor_id: None, phone: None, email: None, notes: None };
    let row = insert(tx, Scope::of_practice(by.practice_id), id, now, new).await?;
    let answer = Answer::created(format!("/v1/growers/{id}"), json!({"id": id, "name": row.name}));
    Ok(Done::new(Touched::new("grower", id).of_grower(id), answer))
}
