//! All that the digs of a practice have taught.

use serde::{Deserialize, Serialize};

use super::event::DigEvent;
use super::grid::LogDensity;
use super::lessons::Lessons;
use super::likelihood::{Reading, log_likelihood};
use super::node::{Branch, Dig, Practice, Says, Season};
use super::place::Place;
use super::posterior::Posterior;
use super::prior::{Blurs, Prior};

/// What the digs of one practice have taught, as of one season.
///
/// A pure function of the prior, the season and the set of events: the order in which events come
/// does not matter, and adding them one by one gives the same as [`Learned::from_events`].
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    prior: Prior,
    reading: Reading,
    blurs: Blurs,
    season: u16,
    practice: Practice,
    /// What is known without a single dig.
    before: Posterior,
}

/// How many digs stand behind an estimate, from near to far. Each count holds the ones before it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct DigsCounted {
    /// In this field, this season.
    pub season: u32,
    /// In this field, all seasons.
    pub field: u32,
    /// Behind this planter in this soil and cover class.
    pub planter: u32,
    /// Behind all planters of the practice in this class.
    pub class: u32,
    /// In the whole practice.
    pub practice: u32,
}

impl DigsCounted {
    /// With one more, of the field in this season.
    fn and_one(self) -> Self {
        let more = |count: u32| count.saturating_add(1);
        Self {
            season: more(self.season),
            field: more(self.field),
            planter: more(self.planter),
            class: more(self.class),
            practice: more(self.practice),
        }
    }
}

impl Learned {
    /// Nothing learned yet; `season` is the year in which questions are asked.
    pub fn nothing(prior: Prior, reading: Reading, season: u16) -> Self {
        let blurs = Blurs::of(&prior);
        let before = without_digs(&prior, &blurs);
        Self { prior, reading, blurs, season, practice: Practice::default(), before }
    }

    /// What a list of events teaches, as of a season. Later seasons among the events count as that
    /// season.
    pub fn from_events(prior: Prior, reading: Reading, season: u16, events: &[DigEvent]) -> Self {
        let mut learned = Self::nothing(prior, reading, season);
        for event in events {
            let says = learned.says(event);
            learned.season_of(&event.place).children.insert(event.dig, says);
        }
        learned.hear_all();
        learned
    }

    /// Takes in one more event, or a corrected one.
    pub fn add(&mut self, event: &DigEvent) {
        let says = self.says(event);
        let Place { class, planter, field, season } = event.place;
        let years = self.season.saturating_sub(season);
        let blurs = &self.blurs;
        let class = self.practice.children.entry(class).or_default();
        let planter = class.children.entry(planter).or_default();
        let field = planter.children.entry(field).or_default();
        let digs = field.children.entry(season).or_default();
        digs.children.insert(event.dig, says);
        digs.hear();
        digs.speak(blurs.season(years));
        field.hear();
        field.speak(&blurs.field);
        planter.hear();
        planter.speak(&blurs.planter);
        class.hear();
        class.speak(&blurs.class);
        self.practice.hear();
    }

    /// The same digs, asked about in another season: older ones say less.
    pub fn turn_to(&mut self, season: u16) {
        self.season = season;
        self.hear_all();
    }

    /// The season in which questions are asked.
    pub fn season(&self) -> u16 {
        self.season
    }

    /// The prior.
    pub fn prior(&self) -> &Prior {
        &self.prior
    }

    /// What is known about the factor in a field, for the next pass or dig there.
    pub fn posterior(&self, place: &Place) -> Posterior {
        Posterior::new(&self.blurs.dig.down(&self.of_season(place)), self.digs(place))
    }

    /// What would be known without a single dig.
    pub fn before_digs(&self) -> Posterior {
        self.before.clone()
    }

    /// What the digs say about a field, for a recommendation there.
    pub fn lessons(&self, place: &Place) -> Lessons {
        Lessons::new(*place, &self.posterior(place), &self.before)
    }

    /// The same with one more dig of that place, which is not taken in.
    pub fn lessons_hearing(&self, event: &DigEvent) -> Lessons {
        let mut at = self.of_season(&event.place);
        at.and(&self.says(event).0);
        let digs = self.digs(&event.place).and_one();
        let with = Posterior::new(&self.blurs.dig.down(&at), digs);
        Lessons::new(event.place, &with, &self.before)
    }

    /// Digs behind an estimate for a place.
    pub fn digs(&self, place: &Place) -> DigsCounted {
        let class = self.practice.children.get(&place.class);
        let planter = class.and_then(|c| c.children.get(&place.planter));
        let field = planter.and_then(|p| p.children.get(&place.field));
        let season = field.and_then(|f| f.children.get(&place.season));
        DigsCounted {
            season: season.map_or(0, Says::digs),
            field: field.map_or(0, Says::digs),
            planter: planter.map_or(0, Says::digs),
            class: class.map_or(0, Says::digs),
            practice: self.practice.digs(),
        }
    }

    fn says(&self, event: &DigEvent) -> Dig {
        Dig(self.blurs.dig.up(&log_likelihood(&event.balance, &event.rows, &self.reading)))
    }

    fn season_of(&mut self, place: &Place) -> &mut Season {
        let class = self.practice.children.entry(place.class).or_default();
        let planter = class.children.entry(place.planter).or_default();
        let field = planter.children.entry(place.field).or_default();
        field.children.entry(place.season).or_default()
    }

    fn hear_all(&mut self) {
        let (blurs, now) = (&self.blurs, self.season);
        for class in self.practice.children.values_mut() {
            for planter in class.children.values_mut() {
                for field in planter.children.values_mut() {
                    for (season, digs) in &mut field.children {
                        digs.hear();
                        digs.speak(blurs.season(now.saturating_sub(*season)));
                    }
                    field.hear();
                    field.speak(&blurs.field);
                }
                planter.hear();
                planter.speak(&blurs.planter);
            }
            class.hear();
            class.speak(&blurs.class);
        }
        self.practice.hear();
    }

    /// The log density of the factor of a field in a season, all digs taken in: down the tree, at
    /// each level what the parent says and what the other children say.
    fn of_season(&self, place: &Place) -> LogDensity {
        let class = self.practice.children.get(&place.class);
        let planter = class.and_then(|class| class.children.get(&place.planter));
        let field = planter.and_then(|planter| planter.children.get(&place.field));
        let season = field.and_then(|field| field.children.get(&place.season));
        let blurs = &self.blurs;
        let mut at = LogDensity::normal(self.prior.median.ln(), self.prior.practice);
        at.and(&self.practice.without(&place.class));
        at = blurs.class.down(&at);
        at.and(&others(class, &place.planter));
        at = blurs.planter.down(&at);
        at.and(&others(planter, &place.field));
        at = blurs.field.down(&at);
        at.and(&others(field, &place.season));
        at = blurs.season(self.season.saturating_sub(place.season)).down(&at);
        at.and(&season.map_or_else(LogDensity::flat, |season| season.heard.clone()));
        at
    }
}

/// Down the tree, with nobody saying anything.
fn without_digs(prior: &Prior, blurs: &Blurs) -> Posterior {
    let start = LogDensity::normal(prior.median.ln(), prior.practice);
    let levels = [&blurs.class, &blurs.planter, &blurs.field, blurs.season(0), &blurs.dig];
    let at = levels.into_iter().fold(start, |at, blur| blur.down(&at));
    Posterior::new(&at, DigsCounted::default())
}

/// What the children of a node say, all but one; nothing where there is no such node.
fn others<K: Ord, C: Says>(node: Option<&Branch<K, C>>, own: &K) -> LogDensity {
    node.map_or_else(LogDensity::flat, |node| node.without(own))
}
