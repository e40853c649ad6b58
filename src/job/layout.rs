//! Pieces side by side in one pan: whether they fit, in rows and columns with room between.

use crate::units::{Outline, Quantity};

/// Rows and columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grid {
    /// Along the pan's longer side.
    pub columns: u32,
    /// Along its shorter side.
    pub rows: u32,
    /// Whether the pieces lie across: their longer side along the pan's shorter one.
    pub across: bool,
}

impl Grid {
    /// How many lie in it.
    pub fn count(&self) -> u32 {
        self.columns * self.rows
    }
}

/// Longer and shorter side, m; none where only the area is known. A disc takes its square.
pub fn sides(outline: &Outline) -> Option<(f64, f64)> {
    match outline {
        Outline::Rectangle(a, b) => Some((a.si().max(b.si()), a.si().min(b.si()))),
        Outline::Disc(d) => Some((d.si(), d.si())),
        Outline::Area(_) => None,
    }
}

/// Rounding of the last digit is no contradiction.
const SLACK: f64 = 1.0 + 1e-9;

/// The grid that takes most pieces of these sides in a pan of those, with so much between them, m.
pub fn most(piece: (f64, f64), pan: (f64, f64), between: f64) -> Grid {
    let fit = |room: f64, side: f64| ((room * SLACK + between) / (side + between)).floor() as u32;
    let along = Grid { columns: fit(pan.0, piece.0), rows: fit(pan.1, piece.1), across: false };
    let across = Grid { columns: fit(pan.0, piece.1), rows: fit(pan.1, piece.0), across: true };
    if across.count() > along.count() { across } else { along }
}

/// Sides of the pan with the shortest way round that takes so many pieces in rows, m.
pub fn pan_for(piece: (f64, f64), count: u32, between: f64) -> (f64, f64) {
    let over = |n: u32, side: f64| f64::from(n) * (side + between) - between;
    let pan = |rows: u32| {
        let columns = count.div_ceil(rows);
        [
            (over(columns, piece.0), over(rows, piece.1)),
            (over(columns, piece.1), over(rows, piece.0)),
        ]
    };
    let all = (1..=count).flat_map(pan).map(|(a, b)| (a.max(b), a.min(b)));
    all.min_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1))).unwrap_or(piece)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_hand() {
        // 150 x 100 with 10 between: along it (150 + 10)/(42 + 10) = 3, (100 + 10)/(28 + 10) = 2;
        // across (160)/(38) = 4, 110/52 = 2.
        let grid = most((0.042, 0.028), (0.15, 0.1), 0.01);
        assert_eq!(grid, Grid { columns: 4, rows: 2, across: true });
        assert_eq!(most((0.042, 0.028), (0.042, 0.028), 0.01).count(), 1);
        assert_eq!(most((0.042, 0.028), (0.041, 0.028), 0.01).count(), 0);
        // Two of 42 x 28: 66 x 42 is less round than 94 x 28.
        let (a, b) = pan_for((0.042, 0.028), 2, 0.01);
        assert!((a - 0.066).abs() < 1e-12 && (b - 0.042).abs() < 1e-12, "{a} {b}");
        for count in 1..40 {
            let pan = pan_for((0.042, 0.028), count, 0.012);
            assert!(most((0.042, 0.028), pan, 0.012).count() >= count, "{count} {pan:?}");
        }
    }
}
