//! From figures to places.

/// A stretch of figures on a stretch of the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    from: (f64, f64),
    to: (f64, f64),
}

impl Scale {
    /// Figures `from` on places `to`.
    pub(super) fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        Self { from, to }
    }

    /// The place of a figure.
    pub(super) fn at(self, value: f64) -> f64 {
        let wide = self.from.1 - self.from.0;
        if wide.abs() < f64::EPSILON {
            return f64::midpoint(self.to.0, self.to.1);
        }
        self.to.0 + (value - self.from.0) / wide * (self.to.1 - self.to.0)
    }

    /// Round figures on the stretch, about so many, and the digits they need.
    pub(super) fn ticks(self, about: f64) -> (Vec<f64>, usize) {
        let (low, high) = (self.from.0.min(self.from.1), self.from.0.max(self.from.1));
        let step = round_step((high - low) / about.max(1.0));
        let digits = digits_of(step);
        let mut ticks = Vec::new();
        let mut tick = (low / step - 1e-9).ceil() * step;
        while tick <= high + step * 1e-9 && ticks.len() < 50 {
            ticks.push(if tick.abs() < step * 1e-9 { 0.0 } else { tick });
            tick += step;
        }
        (ticks, digits)
    }
}

/// The digits after the point that a step needs.
fn digits_of(step: f64) -> usize {
    let whole = |power: f64| ((step * power).round() - step * power).abs() < 1e-6;
    [1.0, 10.0, 100.0].into_iter().position(whole).unwrap_or(3)
}

/// 1, 2, 2.5 or 5 times a power of ten, at least as large.
fn round_step(rough: f64) -> f64 {
    if !rough.is_finite() || rough <= 0.0 {
        return 1.0;
    }
    let power = 10_f64.powf(rough.log10().floor());
    let steps = [1.0, 2.0, 2.5, 5.0, 10.0];
    steps
        .into_iter()
        .map(|step| step * power)
        .find(|step| *step >= rough * 0.999)
        .unwrap_or(power * 10.0)
}

#[cfg(test)]
mod tests {
    use super::Scale;

    #[test]
    fn ticks_are_round_and_inside() {
        let scale = Scale::new((0.0, 1.0), (0.0, 100.0));
        assert_eq!(scale.ticks(4.0), (vec![0.0, 0.25, 0.5, 0.75, 1.0], 2));
        assert_eq!(
            Scale::new((0.0, 8.0), (0.0, 1.0)).ticks(4.0),
            (vec![0.0, 2.0, 4.0, 6.0, 8.0], 0)
        );
        assert_eq!(Scale::new((0.0, 8.0), (0.0, 1.0)).ticks(3.5).1, 1, "steps of 2.5");
        assert_eq!(Scale::new((-0.62, 0.9), (0.0, 1.0)).ticks(4.0).0, [-0.5, 0.0, 0.5]);
        assert!((scale.at(0.25) - 25.0).abs() < 1e-9);
        assert!((Scale::new((3.0, 3.0), (0.0, 10.0)).at(3.0) - 5.0).abs() < 1e-9);
    }
}
