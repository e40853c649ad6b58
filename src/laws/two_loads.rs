//! Internal resistance of a cell from two loads, and conductivity from two currents: what a
//! voltmeter and an ammeter make of a bench's own cells and bath.
//!
//! Direct-current resistance by two steps (IEC 61960-3, the method shared with IEC 61951):
//! a first current for 10 s, then a second one for 1 s, R = (U1 - U2)/(I2 - I1), U1 and U2
//! read at the end of each. The standard's currents are 0.2 and 1.0 It.
//!
//! A cell that polarises through R1 and C1 (the model, 4.1) gives by the same two steps, its
//! open-circuit voltage and charge unchanged:
//! R = R0 + (u2 - u1)/(I2 - I1), u1 = I1 R1 (1 - e1), u2 = u1 e2 + I2 R1 (1 - e2),
//! e = exp(-t/(R1 C1)).

/// A load held for a while: current in A, for so many s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Current, A.
    pub current: f64,
    /// How long until the voltage was read, s.
    pub after: f64,
}

/// Resistance in ohm from two loads and the voltages (V) read under them; the second current
/// must be the larger.
pub fn resistance(first: (f64, f64), second: (f64, f64)) -> f64 {
    let ((i1, u1), (i2, u2)) = (first, second);
    (u1 - u2) / (i2 - i1)
}

/// What a cell of these resistances (ohm) and this capacitance (F) shows in such a test, ohm.
pub fn expected(r0: f64, r1: f64, c1: f64, first: Load, second: Load) -> f64 {
    let left = |load: Load| libm::exp(-load.after / (r1 * c1));
    let u1 = first.current * r1 * (1.0 - left(first));
    let u2 = u1 * left(second) + second.current * r1 * (1.0 - left(second));
    r0 + (u2 - u1) / (second.current - first.current)
}

/// Conductivity in S/m between two flat plates of one metal `gap` m apart and `area` m2 each,
/// from two currents (A) and the voltages (V) across the plates. What the electrodes
/// themselves take cancels so far as it does not grow with the current; the rest reads as a
/// conductivity that is too low.
pub fn conductivity(gap: f64, area: f64, first: (f64, f64), second: (f64, f64)) -> f64 {
    let ((i1, v1), (i2, v2)) = (first, second);
    gap / area * (i2 - i1) / (v2 - v1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_steps_as_the_standard_defines_them() {
        // IEC 61960-3, worked from its definition for a 2 Ah cell: 0.4 A and 2.0 A, 3.92 V
        // and 3.84 V: 0.08 V / 1.6 A = 50 mohm.
        assert!((resistance((0.4, 3.92), (2.0, 3.84)) - 0.05).abs() < 1e-12);
    }

    #[test]
    fn a_cell_shows_what_its_own_equation_gives() {
        // u' = I/C1 - u/(R1 C1) by small steps (Euler), voltages put into the definition.
        let (r0, r1, c1, open_v) = (0.03, 0.02, 500.0, 1.3);
        let (first, second) =
            (Load { current: 0.4, after: 10.0 }, Load { current: 2.0, after: 1.0 });
        let (mut u, dt) = (0.0, 1e-4);
        let mut held = |load: Load| {
            for _ in 0..(load.after / dt) as usize {
                u += dt * (load.current / c1 - u / (r1 * c1));
            }
            (load.current, open_v - u - load.current * r0)
        };
        let (a, b) = (held(first), held(second));
        let shown = resistance(a, b);
        let expected = expected(r0, r1, c1, first, second);
        assert!((shown / expected - 1.0).abs() < 1e-4, "{shown} {expected}");
        // At once it is R0 alone, after long R0 + R1.
        let (now, long) = (1e-9, 1e9);
        let at =
            |after| super::expected(r0, r1, c1, Load { after, ..first }, Load { after, ..second });
        assert!((at(now) - r0).abs() < 1e-9 && (at(long) - r0 - r1).abs() < 1e-9);
    }

    #[test]
    fn plates_of_a_known_bath() {
        // 10 S/m, 20 cm2, 20 mm: 1 ohm, and half a volt of electrodes that cancels.
        let k = conductivity(0.02, 20e-4, (0.1, 0.6), (0.4, 0.9));
        assert!((k - 10.0).abs() < 1e-12, "{k}");
    }
}
