//! What a caller may use up.

/// Limits on requests, time and connections.
#[derive(Debug, Clone, clap::Args)]
pub struct Limits {
    /// Requests that change nothing, a minute and caller; 0 for no limit.
    #[arg(long, env = "DIBBLE_READS_PER_MINUTE", default_value_t = 1200,
          value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    pub reads_per_minute: u32,

    /// Requests that may change something, and calculations, a minute and caller; 0 for no limit.
    #[arg(long, env = "DIBBLE_WRITES_PER_MINUTE", default_value_t = 300,
          value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    pub writes_per_minute: u32,

    /// Tries to sign in, a minute and address; 0 for no limit.
    #[arg(long, env = "DIBBLE_SIGN_INS_PER_MINUTE", default_value_t = 30,
          value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    pub sign_ins_per_minute: u32,

    /// How long the head of a request may take to arrive, in seconds.
    #[arg(long, env = "DIBBLE_HEAD_SECONDS", default_value_t = 5,
          value_parser = clap::value_parser!(u16).range(1..=300))]
    pub head_seconds: u16,

    /// How long the body of a request may take to arrive, in seconds.
    #[arg(long, env = "DIBBLE_BODY_SECONDS", default_value_t = 20,
          value_parser = clap::value_parser!(u16).range(1..=600))]
    pub body_seconds: u16,

    /// How long a request may take in all, in seconds.
    #[arg(long, env = "DIBBLE_REQUEST_SECONDS", default_value_t = 30,
          value_parser = clap::value_parser!(u16).range(1..=900))]
    pub request_seconds: u16,

    /// How long a connection stays open between requests, in seconds.
    #[arg(long, env = "DIBBLE_KEEP_ALIVE_SECONDS", default_value_t = 30,
          value_parser = clap::value_parser!(u16).range(1..=600))]
    pub keep_alive_seconds: u16,

    /// Most connections at once for each worker; more have to wait.
    #[arg(long, env = "DIBBLE_CONNECTIONS", default_value_t = 2000,
          value_parser = clap::value_parser!(u16).range(1..))]
    pub connections: u16,
}

impl Limits {
    /// Requests are not counted; all else as by default. The environment is not read.
    pub fn none() -> Self {
        Self {
            reads_per_minute: 0,
            writes_per_minute: 0,
            sign_ins_per_minute: 0,
            head_seconds: 5,
            body_seconds: 20,
            request_seconds: 30,
            keep_alive_seconds: 30,
            connections: 2000,
        }
    }
}
