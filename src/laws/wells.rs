//! A cell's charge in two wells: what is available and what must first diffuse to it.
//!
//! Manwell and McGowan, Solar Energy 1993, 50, 399: q1' = -I - k (1-c) q1 + k c q2,
//! q2' = k (1-c) q1 - k c q2; charges in C, current in A, k in 1/s.

/// The wells' constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wells {
    /// Capacity Q, C.
    pub capacity: f64,
    /// Share c of it that is available, in (0, 1).
    pub available_share: f64,
    /// Rate k between the wells, 1/s.
    pub rate: f64,
}

impl Wells {
    /// Both wells level, with the share `left` of the charge in them.
    pub fn level(&self, left: f64) -> (f64, f64) {
        let c = self.available_share;
        (left * c * self.capacity, left * (1.0 - c) * self.capacity)
    }

    /// (q1', q2') at current `i` (A).
    pub fn rates(&self, q1: f64, q2: f64, i: f64) -> (f64, f64) {
        let c = self.available_share;
        let flow = self.rate * ((1.0 - c) * q1 - c * q2);
        (-i - flow, flow)
    }

    /// (q1, q2) after `t` seconds at a steady current `i`, from any start: exact.
    pub fn after(&self, q1: f64, q2: f64, i: f64, t: f64) -> (f64, f64) {
        let (c, k) = (self.available_share, self.rate);
        let e = libm::exp(-k * t);
        let q0 = q1 + q2;
        let near = q1 * e + (q0 * k * c - i) * (1.0 - e) / k - i * c * (k * t - 1.0 + e) / k;
        (near, q0 - i * t - near)
    }

    /// Share of the available well that is full.
    pub fn available(&self, q1: f64) -> f64 {
        q1 / (self.available_share * self.capacity)
    }

    /// Share of the whole charge that is left.
    pub fn total(&self, q1: f64, q2: f64) -> f64 {
        (q1 + q2) / self.capacity
    }

    /// Available charge after `t` seconds at constant current from level wells holding
    /// `q0` together, C: the published closed form.
    pub fn available_charge_closed_form(&self, q0: f64, i: f64, t: f64) -> f64 {
        let (c, k) = (self.available_share, self.rate);
        let e = libm::exp(-k * t);
        let (q10, _) = (c * q0, (1.0 - c) * q0);
        q10 * e + (q0 * k * c - i) * (1.0 - e) / k - i * c * (k * t - 1.0 + e) / k
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_of_the_paper() {
        // Manwell and McGowan 1993, eq. for q1 at constant current, against a fine
        // midpoint integration of the rates (error of order dt^2).
        let w = Wells { capacity: 9000.0, available_share: 0.3, rate: 3e-4 };
        let (mut q1, mut q2) = w.level(0.8);
        let (i, t, n) = (0.7, 1500.0, 20_000);
        let dt = t / f64::from(n);
        for _ in 0..n {
            let (a, b) = w.rates(q1, q2, i);
            let (c, d) = w.rates(q1 + 0.5 * dt * a, q2 + 0.5 * dt * b, i);
            (q1, q2) = (q1 + dt * c, q2 + dt * d);
        }
        let closed = w.available_charge_closed_form(0.8 * w.capacity, i, t);
        assert!((q1 / closed - 1.0).abs() < 1e-8, "{q1} {closed}");
        let (a, b) = w.level(0.8);
        let (a, b) = w.after(a, b, i, 0.4 * t);
        let (a, b) = w.after(a, b, i, 0.6 * t);
        assert!((a / closed - 1.0).abs() < 1e-12 && (a + b - q1 - q2).abs() < 1e-6);
        assert!((q1 + q2 - (0.8 * w.capacity - i * t)).abs() < 1e-6, "charge is kept");
    }

    #[test]
    fn level_wells_stay() {
        let w = Wells { capacity: 9000.0, available_share: 0.3, rate: 3e-4 };
        let (q1, q2) = w.level(0.6);
        let (a, b) = w.rates(q1, q2, 0.0);
        assert!(a.abs() < 1e-12 && b.abs() < 1e-12);
    }
}
