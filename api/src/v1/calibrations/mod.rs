use utoipa_actix_web::service_config::ServiceConfig;
pub fn routes(_config: &mut ServiceConfig<'_>) {}
