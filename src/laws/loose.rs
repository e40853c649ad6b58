//! How much of the silver on the pan is loose.
//!
//! psi = (lambda - l0)/(l1 - l0), held within 0..1; lambda = I/(sum of A_X L_X), the current
//! over what the pan can plate at most. Over lambda = 1 the pan gives off gas.
//!
//! With acid l0 = 0.4, l1 = 0.7: above 0.7 dendrites grow (Trans. Inst. Met. Finish. 1970, 48,
//! read). Without acid 0.2 and 0.5, fitted to common practice (judgement).

use super::range::Range;

/// Load within which the share is more than 0 or 1 by its bounds.
pub const LOAD: Range = Range {
    law: "loose share",
    of: "load of the pan",
    low: 0.0,
    high: 1.0,
    unit: "",
    source: "over 1 the pan gives off gas, and what the gas shakes loose is not followed",
};

/// Loads at which the deposit begins to be loose, and is all loose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// l0.
    pub from: f64,
    /// l1, above it.
    pub all: f64,
}

impl Thresholds {
    /// Loose share at this load; infinite where nothing plates.
    #[must_use]
    pub fn share(&self, load: f64) -> f64 {
        if load <= self.from {
            0.0
        } else if load >= self.all {
            1.0
        } else {
            (load - self.from) / (self.all - self.from)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn held_within() {
        let acid = Thresholds { from: 0.4, all: 0.7 };
        for (load, share) in
            [(0.0, 0.0), (0.4, 0.0), (0.55, 0.5), (0.7, 1.0), (3.0, 1.0), (f64::INFINITY, 1.0)]
        {
            assert!((acid.share(load) - share).abs() < 1e-12, "{load}");
        }
        // A step, should both be one: never a division by nothing.
        let step = Thresholds { from: 0.5, all: 0.5 };
        assert_eq!((step.share(0.5), step.share(0.500_1)), (0.0, 1.0));
    }
}
