//! What was learned, held in memory for the practices that ask.

use std::fmt;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use domain::learning::{DigEvent, Learned, Place, Prior, Reading, SoilClass};
use domain::provenance::Coefficients;
use hashlink::LruCache;
use sea_orm::DatabaseConnection;
use tokio::task::{spawn, spawn_blocking};
use uuid::Uuid;

use super::store::{self, Mark, Since};
use crate::auth::Scope;
use crate::http::ApiError;

/// Most digs that are held over all practices: about 500 MB. One takes some 2.4 kB with its share of
/// season, field and planter, at four digs a field.
const MOST_DIGS: u64 = 200_000;

/// What a practice without a dig counts as, in digs.
const LEAST: u64 = 64;

/// What was learned, by practice; the practice that asked longest ago goes first when there are too
/// many digs.
///
/// Several processes may share a database: with every question the numbers of the last lessons are
/// compared, and what came since is taken in. So an answer knows of every dig check that was stored
/// before it was asked for.
pub struct LearnedCache {
    practices: Mutex<LruCache<Uuid, Arc<Practice>>>,
    most_digs: u64,
}

/// One practice.
#[derive(Debug, Default)]
struct Practice {
    held: tokio::sync::Mutex<Option<Held>>,
    digs: AtomicU64,
}

#[derive(Debug)]
struct Held {
    learned: Arc<Learned>,
    by: By,
    mark: Mark,
}

/// What is learned by: the figures that matter to it, and the season in which is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
struct By {
    prior: Prior,
    reading: Reading,
    season: u16,
}

impl Default for LearnedCache {
    fn default() -> Self {
        Self::holding(MOST_DIGS)
    }
}

impl fmt::Debug for LearnedCache {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("LearnedCache").field("most_digs", &self.most_digs).finish_non_exhaustive()
    }
}

impl LearnedCache {
    /// One that holds this many digs, and always the practice that asked last.
    pub fn holding(most_digs: u64) -> Self {
        Self { practices: Mutex::new(LruCache::new_unbounded()), most_digs }
    }

    /// What the digs of the practice taught, with every dig check that is stored by now.
    ///
    /// `figures` are those in force for the practice, `season` is that in which is asked
    /// ([`super::season_of`] now): with others all is learned anew. Ask before a transaction of
    /// your own begins: this reads by a connection of its own, and takes in only what is committed.
    /// The answer stays as it is while others learn on.
    pub async fn of(
        &self,
        db: &DatabaseConnection,
        scope: Scope,
        figures: &Coefficients,
        season: u16,
    ) -> Result<Arc<Learned>, ApiError> {
        let practice_id = scope.practice_id;
        let by = By { prior: Prior::of(figures), reading: Reading::of(figures), season };
        let practice = self.practice(practice_id);
        let mark = store::mark(db, practice_id).await?;
        if let Some(learned) = practice.known(&by, mark).await {
            return Ok(learned);
        }
        // On its own, so that long work is not lost when the caller gives up.
        let db = db.clone();
        let work = spawn(async move { practice.catch_up(&db, practice_id, by).await });
        let learned = work.await.map_err(ApiError::internal)??;
        self.let_go();
        Ok(learned)
    }

    fn practice(&self, id: Uuid) -> Arc<Practice> {
        let mut practices = self.practices.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(there) = practices.get(&id) {
            return there.clone();
        }
        let new = Arc::<Practice>::default();
        practices.insert(id, new.clone());
        new
    }

    /// Lets practices go until the rest is few enough.
    fn let_go(&self) {
        let mut practices = self.practices.lock().unwrap_or_else(PoisonError::into_inner);
        let digs =
            |practice: &Practice| practice.digs.load(Ordering::Relaxed).saturating_add(LEAST);
        let mut held: u64 = practices.iter().map(|(_, practice)| digs(practice)).sum();
        while held > self.most_digs && practices.len() > 1 {
            let Some((_, gone)) = practices.remove_lru() else { return };
            held = held.saturating_sub(digs(&gone));
        }
    }
}

impl Practice {
    /// What is held, if it is by the same figures in the same season and goes as far as `mark`.
    async fn known(&self, by: &By, mark: Mark) -> Option<Arc<Learned>> {
        let held = self.held.lock().await;
        let held = held.as_ref()?;
        let fresh =
            held.by == *by && held.mark.generation == mark.generation && held.mark.seq >= mark.seq;
        fresh.then(|| held.learned.clone())
    }

    /// Takes in what came since, or all anew.
    async fn catch_up(
        &self,
        db: &DatabaseConnection,
        practice_id: Uuid,
        by: By,
    ) -> Result<Arc<Learned>, ApiError> {
        let mut place = self.held.lock().await;
        let known = place.as_ref().filter(|held| held.by.same_figures(&by)).map(|held| held.mark);
        let Since { mark, all, events } = store::since(db, practice_id, known).await?;
        // Taken out: should the work fail, the next one starts anew.
        let before = place.take().filter(|_| !all).map(|held| held.learned);
        let learned = spawn_blocking(move || by.learn(before, &events)).await;
        let learned = learned.map_err(ApiError::internal)?;
        *place = Some(Held { learned: learned.clone(), by, mark });
        self.digs.store(digs_in(&learned), Ordering::Relaxed);
        Ok(learned)
    }
}

/// Digs of the whole practice.
fn digs_in(learned: &Learned) -> u64 {
    let anywhere =
        Place { class: SoilClass::UNKNOWN, planter: 0, field: 0, season: learned.season() };
    u64::from(learned.digs(&anywhere).practice)
}

impl By {
    fn same_figures(&self, other: &Self) -> bool {
        (self.prior, self.reading) == (other.prior, other.reading)
    }

    /// Events on top of what was learned before, or from nothing.
    fn learn(self, before: Option<Arc<Learned>>, events: &[DigEvent]) -> Arc<Learned> {
        let Self { prior, reading, season } = self;
        let Some(mut shared) = before else {
            return Arc::new(Learned::from_events(prior, reading, season, events));
        };
        // Copied only where somebody still looks at it.
        let learned = Arc::make_mut(&mut shared);
        if learned.season() != season {
            learned.turn_to(season);
        }
        for event in events {
            learned.add(event);
        }
        shared
    }
}

#[cfg(test)]
mod tests {
    use super::{LEAST, LearnedCache};
    use std::sync::Arc;
    use std::sync::atomic::Ordering;
    use uuid::Uuid;

    fn ask(cache: &LearnedCache, practice: u128, digs: u64) {
        let held = cache.practice(Uuid::from_u128(practice));
        held.digs.store(digs, Ordering::Relaxed);
        cache.let_go();
    }

    fn held(cache: &LearnedCache) -> Vec<u128> {
        let practices = cache.practices.lock().expect("not poisoned");
        practices.iter().map(|(id, _)| id.as_u128()).collect()
    }

    #[test]
    fn the_practice_that_asked_longest_ago_goes_first() {
        let cache = LearnedCache::holding(1000 + 3 * LEAST);
        ask(&cache, 1, 400);
        ask(&cache, 2, 400);
        ask(&cache, 3, 200);
        assert_eq!(held(&cache), [1, 2, 3], "just enough room");
        ask(&cache, 1, 400);
        ask(&cache, 4, 0);
        assert_eq!(held(&cache), [3, 1, 4], "2 had not asked for longest");
        ask(&cache, 5, 5000);
        assert_eq!(held(&cache), [5], "the one that asks stays, however large");
    }

    #[test]
    fn all_who_ask_share_what_is_held() {
        let cache = LearnedCache::default();
        let first = cache.practice(Uuid::from_u128(1));
        assert!(Arc::ptr_eq(&first, &cache.practice(Uuid::from_u128(1))));
        assert!(!Arc::ptr_eq(&first, &cache.practice(Uuid::from_u128(2))));
    }
}
