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

/// One line a figure, one column a policy.
pub(crate) fn print(played: &[(Policy, Vec<Story>)]) {
    print!("{:58}", "");
    for (policy, _) in played {
        print!("{:>12}", format!("{policy:?}"));
    }
    println!();
    for after in 0..=ROUNDS {
        line(&format!("in the window after {after} adjustments, %"), played, |all| {
            share(all.iter(), |s| s.inside[after])
        });
    }
    for after in 0..=ROUNDS {
        line(&format!("the same on sound iron after {after}, %"), played, |all| {
            share(sound(all), |s| s.inside[after])
        });
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
    let one = |name: &str, hit: fn(&Story) -> bool| {
        line(name, played, |all| share(all.iter(), hit));
    };
    one("fooled: moved out of the window, %", |s| s.moved_out);
    one("fooled: moved the wrong way, %", |s| s.wrong_way);
    one("looked at sound iron first, %", |s| s.false_alarms > 0);
    line("changes of down force a field", played, |all| {
        let changes: u32 = all.iter().map(|s| s.changes).sum();
        f64::from(changes) / all.len() as f64
    });
    let faulty_line = |name: &str, hit: fn(&Story) -> bool| {
        line(name, played, |all| share(faulty(all), hit));
    };
    faulty_line("faulty iron: named first at the first dig, %", |s| s.named_first == Some(0));
    faulty_line("faulty iron: named first within three digs, %", |s| s.named_first.is_some());
    faulty_line("faulty iron: force raised before it was mended, %", |s| s.raised_on_fault);
}

fn sound(all: &[Story]) -> impl Iterator<Item = &Story> {
    all.iter().filter(|s| s.fault.is_none())
}

fn faulty(all: &[Story]) -> impl Iterator<Item = &Story> {
    all.iter().filter(|s| s.fault.is_some())
}

fn line(name: &str, played: &[(Policy, Vec<Story>)], figure: impl Fn(&[Story]) -> f64) {
    print!("{name:58}");
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
            "  {:12} {:4} fields: first at dig 1 {:5.1} %, within three {:5.1} %, force raised {:5.1} %",
            format!("{fault:?}"),
            stories.len(),
            of(|s| s.named_first == Some(0)),
            of(|s| s.named_first.is_some()),
            of(|s| s.raised_on_fault)
        );
    }
}
