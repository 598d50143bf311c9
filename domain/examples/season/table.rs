//! The table: what came of it, for each policy.

use std::collections::BTreeMap;

use crate::iron::Fault;
use crate::play::{Policy, ROUNDS, Story};

fn percent(part: usize, of: usize) -> f64 {
    100.0 * part as f64 / of.max(1) as f64
}

fn share<'a>(stories: impl Iterator<Item = &'a Story>, hit: impl Fn(&Story) -> bool) -> f64 {
    let (mut of, mut hits) = (0, 0);
    for story in stories {
        of += 1;
        hits += usize::from(hit(story));
    }
    percent(hits, of)
}

type Played = [(Policy, Vec<Story>)];

fn heading(played: &Played) {
    print!("{:62}", "");
    for (policy, _) in played {
        print!("{:>12}", format!("{policy:?}"));
    }
    println!();
}

/// How many came into the window, what it took, and what went wrong; one column a policy.
pub(crate) fn print_short(played: &Played) {
    heading(played);
    for after in 0..=ROUNDS {
        line(&format!("in the window after {after} adjustments, % of the fields"), played, |all| {
            share(all.iter(), |s| s.inside[after])
        });
    }
    let mean = |name: &str, of: fn(&Story) -> f64| {
        line(name, played, |all| all.iter().map(of).sum::<f64>() / all.len() as f64);
    };
    let one = |name: &str, hit: fn(&Story) -> bool| {
        line(name, played, |all| share(all.iter(), hit));
    };
    one("fooled: a change moved it out of the window, %", |s| s.moved_out);
    one("fooled: a change the wrong way, %", |s| s.wrong_way);
    mean("rows dug on a field, mean", |s| s.rows as f64);
    mean("changes of down force on a field, mean", |s| f64::from(s.changes));
}

/// All figures, one column a policy.
pub(crate) fn print(played: &Played) {
    print_short(played);
    for after in 0..=ROUNDS {
        line(
            &format!("on sound iron: in the window after {after} adjustments, %"),
            played,
            |all| share(sound(all), |s| s.inside[after]),
        );
    }
    for after in 0..=ROUNDS {
        line(&format!("90 % interval of resistance holds after {after} digs, %"), played, |all| {
            share(sound(all), |s| s.covered[after].0)
        });
    }
    for after in 0..=ROUNDS {
        line(&format!("its high end over its low end after {after} digs"), played, |all| {
            let widths: Vec<f64> = sound(all).map(|s| s.covered[after].1).collect();
            domain::stats::mean(&widths).map_or(0.0, f64::exp)
        });
    }
    line("sound iron looked at before the force, %", played, |all| {
        share(sound(all), |s| s.false_alarms > 0)
    });
    let faulty_line = |name: &str, hit: fn(&Story) -> bool| {
        line(name, played, |all| share(faulty(all), hit));
    };
    faulty_line("faulty iron: fault named first at the first dig, %", |s| s.named_first == Some(0));
    faulty_line("faulty iron: fault named first within three digs, %", |s| s.named_first.is_some());
    faulty_line("faulty iron: force raised before it was mended, %", |s| s.raised_on_fault);
}

fn sound(all: &[Story]) -> impl Iterator<Item = &Story> {
    all.iter().filter(|s| s.fault.is_none())
}

fn faulty(all: &[Story]) -> impl Iterator<Item = &Story> {
    all.iter().filter(|s| s.fault.is_some())
}

fn line(name: &str, played: &Played, figure: impl Fn(&[Story]) -> f64) {
    print!("{name:62}");
    for (_, stories) in played {
        print!("{:>12.1}", figure(stories));
    }
    println!();
}

/// Fault by fault: how many, named at the first dig, named at all, force raised before.
pub(crate) fn print_faults(stories: &[Story]) {
    let mut by_fault: BTreeMap<Fault, Vec<&Story>> = BTreeMap::new();
    for story in stories {
        if let Some(fault) = story.fault {
            by_fault.entry(fault).or_default().push(story);
        }
    }
    for (fault, stories) in by_fault {
        let of = |hit: fn(&Story) -> bool| share(stories.iter().copied(), hit);
        println!(
            "  {:12} {:4} fields: named first at dig 1 {:5.1} %, within three {:5.1} %, force raised before {:5.1} %",
            format!("{fault:?}"),
            stories.len(),
            of(|s| s.named_first == Some(0)),
            of(|s| s.named_first.is_some()),
            of(|s| s.raised_on_fault)
        );
    }
}
