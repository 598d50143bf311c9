//! Building and running the service.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use actix_web::HttpServer;
use actix_web::dev::ServerHandle;
use actix_web::middleware::{Compress, Condition, from_fn};
use actix_web::web::{self, Data, PayloadConfig};
use futures_util::future::join_all;
use sea_orm::{DatabaseConnection, DbErr};
use tokio::task::JoinHandle;

use crate::auth::accounts::Maker;
use crate::auth::external::{IssuersError, OutsideIssuers};
use crate::auth::keys::{KeyError, Keys};
use crate::auth::password::Passwords;
use crate::auth::throttle::SignInThrottle;
use crate::clock::{Clock, SystemClock};
use crate::config::Settings;
use crate::db::{self, OpenError};
use crate::exchange::pull::runs::Runner;
use crate::http::boundary::boundary;
use crate::http::cors;
use crate::http::deprecation::announce;
use crate::http::head::head_as_get;
use crate::http::limits::head::check_head;
use crate::http::limits::negotiation::negotiate;
use crate::http::limits::rate::{RateLimits, limit_rate};
use crate::http::limits::time::limit_time;
use crate::http::unmatched::{PathTable, unmatched};
use crate::ids::Ids;
use crate::jobs::Jobs;
use crate::learned::{self, LearnedCache};
use crate::mail::{Post, PostError};
use crate::notices::Dispatcher;
use crate::outgoing::{Authorities, AuthoritiesError, Networks, Outgoing};
use crate::routes;
use crate::sealed::{KeyFileError, Sealer};
use crate::season::{self, Counting};
use crate::tls;
use crate::workers::{Waker, Workers};
use crate::writes::{InFlight, OperationNames};

/// What every operation can reach.
#[derive(Debug)]
pub struct AppState {
    /// The database.
    pub db: DatabaseConnection,
    /// The time.
    pub clock: Arc<dyn Clock>,
    /// New ids.
    pub ids: Ids,
    /// The keys of access tokens.
    pub keys: Keys,
    /// The outside issuers whose tokens are taken.
    pub outside: OutsideIssuers,
    /// Hashes and checks passwords.
    pub passwords: Passwords,
    /// Slows down guessing.
    pub throttle: SignInThrottle,
    /// Counts the requests of each caller.
    pub rates: RateLimits,
    /// The settings.
    pub settings: Settings,
    /// Which methods each path takes.
    pub paths: PathTable,
    /// What the digs of each practice taught.
    pub lessons: LearnedCache,
    /// The ids of the operations that can write.
    pub operation_names: OperationNames,
    /// The requests with a key that are being carried out.
    pub in_flight: InFlight,
    /// Wakes the workers.
    pub jobs: Waker,
    /// Wakes the workers of runs over records links.
    pub runs: Waker,
    /// Wakes the dispatcher of notices.
    pub notices: Waker,
    /// The way out for mail.
    pub post: Post,
    /// Seals secrets that must be read again.
    pub sealer: Sealer,
    /// Sends requests to addresses that users named.
    pub outgoing: Outgoing,
    /// Practices whose seasons are not counted yet.
    pub counting: Counting,
}

impl AppState {
    /// What making accounts needs.
    pub fn maker(&self) -> Maker<'_> {
        Maker { passwords: &self.passwords, ids: &self.ids, now: self.clock.now() }
    }
}

/// Why the service did not start.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// The database could not be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// The schema could not be brought up to date, or a query failed.
    #[error("the database failed")]
    Database(#[from] DbErr),
    /// The signing keys are not to be had.
    #[error(transparent)]
    Keys(#[from] KeyError),
    /// The outside issuers can't be used.
    #[error(transparent)]
    Issuers(#[from] IssuersError),
    /// The address could not be listened on, or the server broke.
    #[error("the server failed on {address}")]
    Server {
        /// Where.
        address: SocketAddr,
        /// What the operating system said.
        source: std::io::Error,
    },
    /// The settings for mail can't be used.
    #[error(transparent)]
    Mail(#[from] PostError),
    /// The key for secrets can't be read or made.
    #[error(transparent)]
    KeyFile(#[from] KeyFileError),
    /// The further authorities can't be used.
    #[error(transparent)]
    Authorities(#[from] AuthoritiesError),
    /// Something that must be done first was not.
    #[error("{0}")]
    NotReady(&'static str),
}

/// What a running service is made of.
#[derive(Debug, Clone)]
pub struct Config {
    /// The settings.
    pub settings: Settings,
    /// The clock.
    pub clock: Arc<dyn Clock>,
    /// Whether the process's signals end the service.
    pub stop_on_signals: bool,
}

impl Config {
    /// For a program: the computer's clock, ended by signals.
    pub fn of(settings: Settings) -> Self {
        Self { settings, clock: Arc::new(SystemClock), stop_on_signals: true }
    }

    /// For a test or the demo: a clock that can be set, ended by [`Running::stop`].
    pub fn with_clock(settings: Settings, clock: Arc<dyn Clock>) -> Self {
        Self { settings, clock, stop_on_signals: false }
    }
}

/// The service.
#[derive(Debug, Clone, Copy)]
pub struct App;

/// A service that answers.
#[derive(Debug)]
pub struct Running {
    /// Where it listens, with the real port.
    pub address: SocketAddr,
    /// Its state.
    pub state: Data<AppState>,
    handle: ServerHandle,
    task: JoinHandle<std::io::Result<()>>,
    workers: Vec<Workers>,
}

impl App {
    /// Opens the database, brings its schema up to date, and listens.
    pub async fn build(config: Config) -> Result<Running, StartError> {
        let state = Data::new(Self::state(&config).await?);
        let asked = config.settings.address;
        let failed = |source| StartError::Server { address: asked, source };
        let shared = state.clone();
        let limits = &config.settings.limits;
        let seconds = |count: u16| Duration::from_secs(u64::from(count));
        let mut server = HttpServer::new(move || {
            let origins = &shared.settings.cors_origins;
            let body_limit = usize::try_from(shared.settings.body_limit).unwrap_or(usize::MAX);
            actix_web::App::new()
                .app_data(shared.clone())
                .app_data(PayloadConfig::new(body_limit))
                .configure(routes::operations)
                .configure(routes::undocumented)
                .default_service(web::to(unmatched))
                .wrap(from_fn(announce))
                .wrap(Compress::default())
                .wrap(from_fn(head_as_get))
                .wrap(from_fn(limit_time))
                .wrap(from_fn(negotiate))
                .wrap(from_fn(check_head))
                .wrap(from_fn(limit_rate))
                .wrap(Condition::new(!origins.is_empty(), cors::of(origins)))
                .wrap(from_fn(boundary))
        })
        .workers(usize::from(config.settings.workers))
        .worker_max_blocking_threads(8)
        .client_request_timeout(seconds(limits.head_seconds))
        .keep_alive(seconds(limits.keep_alive_seconds))
        .max_connections(usize::from(limits.connections))
        .shutdown_timeout(10);
        if !config.stop_on_signals {
            server = server.disable_signals();
        }
        let server = server.bind(asked).map_err(failed)?;
        let address = server.addrs().first().copied().unwrap_or(asked);
        let server = server.run();
        let handle = server.handle();
        tokio::spawn(fill_in(state.clone()));
        let workers = start_workers(&state);
        let task = tokio::spawn(server);
        Ok(Running { address, state, handle, task, workers })
    }

    /// Everything but the listening.
    pub async fn state(config: &Config) -> Result<AppState, StartError> {
        let Config { settings, clock, stop_on_signals: _ } = config;
        tls::use_ring();
        let db = db::open(settings).await?;
        db::migrate(&db).await?;
        let ids = Ids::new(clock.clone());
        let keys = Keys::load(&db, clock.now()).await?;
        let served = routes::served();
        let counting = Counting::of(season::behind(&db).await?);
        let networks = Networks::allowing(&settings.outgoing.allow);
        let authorities = Authorities::of(settings.outgoing.ca.as_deref())?;
        let outside = OutsideIssuers::load(settings.issuers.as_deref(), &db).await?;
        Ok(AppState {
            db,
            outside,
            clock: clock.clone(),
            ids,
            keys,
            passwords: Passwords::default(),
            throttle: SignInThrottle::new(usize::from(settings.network_tries)),
            rates: RateLimits::new(&settings.limits, clock),
            settings: settings.clone(),
            paths: PathTable::of(&served),
            lessons: LearnedCache::default(),
            operation_names: OperationNames::of(&served),
            in_flight: InFlight::default(),
            jobs: Waker::default(),
            runs: Waker::default(),
            notices: Waker::default(),
            post: Post::of(settings)?,
            sealer: Sealer::of(settings)?,
            counting,
            outgoing: Outgoing::new(networks, authorities),
        })
    }
}

/// Workers for each kind of work, unless this process shall not look for any.
fn start_workers(state: &Data<AppState>) -> Vec<Workers> {
    let look_every = Duration::from_secs(u64::from(state.settings.job_seconds));
    if look_every.is_zero() {
        return Vec::new();
    }
    vec![
        Workers::start(Jobs::of(state.clone()), look_every),
        Workers::start(Dispatcher::of(state.clone()), look_every),
        Workers::start(Runner::of(state.clone()), look_every),
    ]
}

/// What older versions did not keep, one after the other: each holds the database for a while.
async fn fill_in(state: Data<AppState>) {
    fill_in_lessons(&state).await;
    // What digs say about their seasons, from before that was kept.
    season::fill_in_all(&state.db, &state.counting).await;
}

/// Lessons of dig checks from before lessons were kept. Answers need not wait for them.
async fn fill_in_lessons(state: &AppState) {
    if let Err(error) = learned::fill_in_all(&state.db, state.clock.now()).await {
        tracing::warn!(cause = error.chain(), "lessons of earlier dig checks are not filled in");
    }
}

impl Running {
    /// Runs until a signal or [`Running::stop`] ends it.
    pub async fn wait(self) -> Result<(), StartError> {
        let address = self.address;
        let ended = self.task.await.unwrap_or_else(|join| Err(std::io::Error::other(join)));
        join_all(self.workers.into_iter().map(Workers::stop)).await;
        ended.map_err(|source| StartError::Server { address, source })
    }

    /// Ends it, after the requests under way are answered.
    pub async fn stop(self) -> Result<(), StartError> {
        self.handle.stop(true).await;
        let db = self.state.db.clone();
        self.wait().await?;
        db.close().await?;
        Ok(())
    }
}
