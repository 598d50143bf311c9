//! Loadings of differences to one control: numbers whose products are the correlations.

/// Correlations that are closer than this are the same.
const SAME: f64 = 1e-9;
/// Differences that hang together more than that are taken to hang together that much: beyond, the
/// integral has corners. It makes ranges a little wider.
const MOST: f64 = 0.99;

/// The loadings that belong to correlations, a row and a column a difference.
///
/// Where correlations are no such products (missing plots), the smallest correlation stands for all:
/// that makes ranges a little wider, never narrower.
pub(super) fn loadings(correlations: &[Vec<f64>]) -> Vec<f64> {
    let found: Vec<f64> = (0..correlations.len()).map(|a| loading(correlations, a)).collect();
    let all = cross(correlations);
    let at = |i: usize| found.get(i).copied().unwrap_or(f64::NAN);
    let fits = found.iter().all(|x| *x <= MOST)
        && all.iter().all(|(a, b, r)| (at(*a) * at(*b) - r).abs() < SAME);
    if fits {
        return found;
    }
    let least = all.iter().map(|(_, _, r)| *r).fold(MOST * MOST, f64::min).max(0.0);
    vec![least.sqrt(); correlations.len()]
}

/// If all correlations are products, this is the loading of one: r(a,b) r(a,c) / r(b,c) is its
/// square. The b and c that hang together most leave the least to rounding.
fn loading(correlations: &[Vec<f64>], of: usize) -> f64 {
    let row = |i: usize| correlations.get(of).and_then(|r| r.get(i)).copied().unwrap_or(0.0);
    let others = cross(correlations).into_iter().filter(|(b, c, _)| *b != of && *c != of);
    let closest = others.max_by(|x, y| x.2.abs().total_cmp(&y.2.abs()));
    let square = match closest {
        Some((b, c, r)) if r.abs() > SAME => row(b) * row(c) / r,
        // The others do not hang together: only what this one shares with one of them counts.
        _ => (0..correlations.len()).filter(|b| *b != of).map(row).fold(0.0, f64::max),
    };
    square.max(0.0).sqrt()
}

/// Each correlation between two differences, once.
fn cross(correlations: &[Vec<f64>]) -> Vec<(usize, usize, f64)> {
    let rows = correlations.iter().enumerate();
    rows.flat_map(|(a, row)| row.iter().enumerate().take(a).map(move |(b, r)| (a, b, *r))).collect()
}

#[cfg(test)]
mod tests {
    use super::loadings;

    fn of(wanted: &[f64]) -> Vec<Vec<f64>> {
        let row = |a: usize| {
            let one = |b: usize| if a == b { 1.0 } else { wanted[a] * wanted[b] };
            (0..wanted.len()).map(one).collect()
        };
        (0..wanted.len()).map(row).collect()
    }

    #[test]
    fn products_give_their_loadings_back() {
        for wanted in [vec![0.3, 0.8, 0.5], vec![0.7, 0.7, 0.7, 0.7], vec![0.9, 0.1, 0.2, 0.6]] {
            let found = loadings(&of(&wanted));
            let near = found.iter().zip(&wanted).all(|(a, b)| (a - b).abs() < 1e-9);
            assert!(near, "{found:?}, not {wanted:?}");
        }
    }

    #[test]
    fn two_share_what_they_have_and_a_third_stands_alone() {
        let found = loadings(&[vec![1.0, 0.36, 0.0], vec![0.36, 1.0, 0.0], vec![0.0, 0.0, 1.0]]);
        assert!((found[0] - 0.6).abs() < 1e-9 && (found[1] - 0.6).abs() < 1e-9, "{found:?}");
        assert!(found[2].abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn what_is_no_product_falls_to_the_smallest() {
        let odd = [vec![1.0, 0.5, 0.1], vec![0.5, 1.0, 0.45], vec![0.1, 0.45, 1.0]];
        let found = loadings(&odd);
        assert!(found.iter().all(|l| (l - 0.1_f64.sqrt()).abs() < 1e-9), "{found:?}");
        assert_eq!(loadings(&[vec![1.0]]), vec![0.0]);
    }
}
