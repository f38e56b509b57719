//! Tables of a number against another that rises.

/// A table at a place, straight between its points and level beyond them; none where it is empty.
pub fn straight(table: &[(f64, f64)], at: f64) -> Option<f64> {
    let after = table.partition_point(|&(x, _)| x < at);
    let (Some(&(x1, y1)), true) = (table.get(after), after > 0) else {
        return table.get(after).or(table.last()).map(|&(_, y)| y);
    };
    let (x0, y0) = table[after - 1];
    Some(y0 + (y1 - y0) * (at - x0) / (x1 - x0))
}

#[cfg(test)]
mod tests {
    use super::straight;

    #[test]
    fn exact_a_table_is_straight_between_its_points_and_level_beyond() {
        let table = [(1.0, 10.0), (2.0, 20.0), (4.0, 0.0)];
        for (at, exact) in [
            (0.0, 10.0),
            (1.0, 10.0),
            (1.5, 15.0),
            (3.0, 10.0),
            (9.0, 0.0),
        ] {
            let found = straight(&table, at);
            assert!(
                found.is_some_and(|y| (y - exact).abs() < 1e-12),
                "{at} {found:?}"
            );
        }
        assert!(straight(&[], 1.0).is_none());
    }
}
