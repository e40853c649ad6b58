//! Numbers as a person would say them, metric or imperial.
//!
//! Two or three significant figures, the unit that fits the size, times in minutes. What
//! is printed here is for people; programs read the JSON.
//!
//! Imperial: inches, thou and square inches, US fluid ounces and quarts, degrees Fahrenheit,
//! and a sheet's Brown & Sharpe gauge where its thickness is one. Salt and metal stay in
//! grams, which is what a bench scale shows; volts, amperes, mol/L and mS/cm are the same
//! everywhere. A wire is named as the job names it. Factors: NIST SP 811 (2008), appendix B.

use super::tables::ZERO_CELSIUS_K;
use super::written::gauge_of;

/// Metres in a thou.
const THOU: f64 = 25.4e-6;
/// Cubic metres in a US fluid ounce, a 128th of a gallon of 231 cubic inches.
const FLUID_OUNCE: f64 = 231.0 * 0.0254 * 0.0254 * 0.0254 / 128.0;
/// Fluid ounces in a quart.
const QUART: f64 = 32.0;

/// Which units to speak in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// Millimetres and degrees Celsius.
    #[default]
    Metric,
    /// Inches, thou, fluid ounces and degrees Fahrenheit.
    Imperial,
}

/// `x` to `digits` significant figures, without trailing zeros or an exponent.
pub fn figures(x: f64, digits: i32) -> String {
    if x == 0.0 || !x.is_finite() {
        return "0".into();
    }
    let size = libm::log10(x.abs()).floor() as i32;
    let places = digits - 1 - size;
    let unit = 10f64.powi(places.clamp(-15, 15));
    let rounded = (x * unit).round() / unit;
    let text = format!("{rounded:.*}", places.clamp(0, 15) as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}

/// A time: "45 s", "8.5 min", "14 min", "1 h 40 min".
pub fn time(s: f64) -> String {
    let minutes = s / 60.0;
    if s < 100.0 {
        format!("{} s", figures(s, 2))
    } else if minutes < 9.75 {
        format!("{} min", figures((minutes * 2.0).round() / 2.0, 2))
    } else if minutes < 99.5 {
        format!("{} min", minutes.round())
    } else {
        let whole = (minutes / 5.0).round() * 5.0;
        let (h, m) = ((whole / 60.0).floor(), whole % 60.0);
        if m == 0.0 { format!("{h} h") } else { format!("{h} h {m} min") }
    }
}

/// A moment to look at the clock for, to the half minute: "45 s", "10.5 min".
pub fn moment(s: f64) -> String {
    let half_minutes = (s / 30.0).round();
    if s < 120.0 {
        format!("{} s", s.round())
    } else if half_minutes < 200.0 {
        format!("{} min", half_minutes / 2.0)
    } else {
        time(s)
    }
}

/// A current in A: "310 mA", "1.9 A".
pub fn current(a: f64) -> String {
    current_to(a, 2)
}

/// A current in A to so many figures.
pub fn current_to(a: f64, digits: i32) -> String {
    if a.abs() < 0.9995 {
        format!("{} mA", figures(a * 1e3, digits))
    } else {
        format!("{} A", figures(a, digits))
    }
}

/// A voltage in V, to a hundredth at most.
pub fn voltage(v: f64) -> String {
    let text = figures((v * 100.0).round() / 100.0, 3);
    format!("{text} V")
}

/// A resistance in ohm.
pub fn resistance(ohm: f64) -> String {
    if ohm.abs() < 0.9995 {
        format!("{} mohm", figures(ohm * 1e3, 2))
    } else {
        format!("{} ohm", figures(ohm, 2))
    }
}

/// A charge in C.
pub fn charge(c: f64) -> String {
    let ah = c / 3600.0;
    if ah < 0.9995 {
        format!("{} mAh", figures(ah * 1e3, 2))
    } else {
        format!("{} Ah", figures(ah, 2))
    }
}

/// A share, 0..=1.
pub fn share(x: f64) -> String {
    format!("{} %", figures(x * 100.0, 2))
}

/// A mass in kg.
pub fn mass(kg: f64) -> String {
    let g = kg * 1e3;
    if g < 0.0995 { format!("{} mg", figures(g * 1e3, 2)) } else { format!("{} g", figures(g, 2)) }
}

/// A concentration in mol/m3.
pub fn molar(c: f64) -> String {
    molar_to(c, 2)
}

/// A concentration in mol/m3 to so many figures.
pub fn molar_to(c: f64, digits: i32) -> String {
    format!("{} mol/L", figures(c / 1e3, digits))
}

/// Two values said with as many figures as it takes to tell them apart, two at least.
pub fn apart(a: f64, b: f64, say: impl Fn(f64, i32) -> String) -> (String, String) {
    let mut digits = 2;
    while digits < 9 && say(a, digits) == say(b, digits) {
        digits += 1;
    }
    (say(a, digits), say(b, digits))
}

impl System {
    /// A depth or thickness in m.
    pub fn depth(self, m: f64) -> String {
        match self {
            Self::Metric if m.abs() < 0.1e-3 => format!("{} mm", figures(m * 1e3, 2)),
            Self::Metric => format!("{} mm", figures((m * 1e5).round() / 100.0, 3)),
            Self::Imperial if m.abs() < 9.75 * THOU => format!("{} thou", figures(m / THOU, 2)),
            // To half a thou, about the hundredth of a millimetre of the metric side.
            Self::Imperial => format!("{} thou", figures((m / THOU * 2.0).round() / 2.0, 6)),
        }
    }

    /// A sheet's thickness in m, by its gauge where it is one.
    pub fn sheet(self, m: f64) -> String {
        match (self, gauge_of(m)) {
            (Self::Imperial, Some(n)) => format!("{n} ga sheet ({} thou)", figures(m / THOU, 3)),
            _ => self.depth(m),
        }
    }

    /// A length in m.
    pub fn length(self, m: f64) -> String {
        match self {
            Self::Metric if m < 0.2 => format!("{} mm", figures(m * 1e3, 3)),
            Self::Metric => format!("{} cm", figures(m * 1e2, 3)),
            Self::Imperial => format!("{} in", figures(m / 0.0254, 3)),
        }
    }

    /// An area in m2.
    pub fn area(self, m2: f64) -> String {
        match self {
            Self::Metric => format!("{} cm2", figures(m2 * 1e4, 3)),
            Self::Imperial => format!("{} in2", figures(m2 / 6.4516e-4, 3)),
        }
    }

    /// A current density in A/m2.
    pub fn density(self, a_per_m2: f64) -> String {
        self.density_to(a_per_m2, 2)
    }

    /// A current density in A/m2 to so many figures.
    pub fn density_to(self, a_per_m2: f64, digits: i32) -> String {
        match self {
            Self::Metric => format!("{} A/cm2", figures(a_per_m2 * 1e-4, digits)),
            Self::Imperial => format!("{} A/in2", figures(a_per_m2 * 6.4516e-4, digits)),
        }
    }

    /// A charge for each bare area, C/m2.
    pub fn dose(self, c_per_m2: f64) -> String {
        match self {
            Self::Metric => format!("{} C/cm2", figures(c_per_m2 * 1e-4, 2)),
            Self::Imperial => format!("{} C/in2", figures(c_per_m2 * 6.4516e-4, 2)),
        }
    }

    /// A temperature in K.
    pub fn temperature(self, k: f64) -> String {
        let c = k - ZERO_CELSIUS_K;
        match self {
            Self::Metric => format!("{} degC", whole(c)),
            Self::Imperial => format!("{} degF", whole(c * 1.8 + 32.0)),
        }
    }

    /// A temperature in K to so many figures.
    pub fn temperature_to(self, k: f64, digits: i32) -> String {
        let c = k - ZERO_CELSIUS_K;
        match self {
            Self::Metric => format!("{} degC", figures(c, digits)),
            Self::Imperial => format!("{} degF", figures(c * 1.8 + 32.0, digits.max(3))),
        }
    }

    /// A temperature difference in K.
    pub fn rise(self, k: f64) -> String {
        match self {
            Self::Metric => format!("{} K", figures(k, 2)),
            Self::Imperial => format!("{} degF", figures(k * 1.8, 2)),
        }
    }

    /// A volume in m3.
    pub fn volume(self, m3: f64) -> String {
        match self {
            Self::Metric if m3 < 0.9995e-3 => format!("{} mL", figures(m3 * 1e6, 3)),
            Self::Metric => format!("{} L", figures(m3 * 1e3, 3)),
            Self::Imperial if m3 < 0.9995 * QUART * FLUID_OUNCE => {
                format!("{} fl oz", figures(m3 / FLUID_OUNCE, 3))
            }
            Self::Imperial => format!("{} qt", figures(m3 / (QUART * FLUID_OUNCE), 3)),
        }
    }
}

/// Rounded to a whole number, never "-0".
fn whole(x: f64) -> String {
    let rounded = x.round();
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_people_say() {
        assert_eq!(time(44.7), "45 s");
        assert_eq!(time(500.0), "8.5 min");
        assert_eq!(time(843.0), "14 min");
        assert_eq!(time(5990.0), "1 h 40 min");
        assert_eq!(time(7200.0), "2 h");
        assert_eq!(moment(630.0), "10.5 min");
        let (a, b) = apart(0.504, 0.5, current_to);
        assert_eq!((a.as_str(), b.as_str()), ("504 mA", "500 mA"));
        assert_eq!(apart(3.0, 2.0, current_to), ("3 A".into(), "2 A".into()));
        assert_eq!(moment(95.0), "95 s");
        assert_eq!(current(0.3104), "310 mA");
        assert_eq!(current(1.94), "1.9 A");
        assert_eq!(current(12.4), "12 A");
        assert_eq!(voltage(5.996), "6 V");
        assert_eq!(voltage(0.413), "0.41 V");
        assert_eq!(resistance(0.1345), "130 mohm");
        assert_eq!(charge(1620.0), "450 mAh");
        assert_eq!(share(0.975), "98 %");
        assert_eq!(mass(1.62e-3), "1.6 g");
        assert_eq!(mass(2.4e-5), "24 mg");
        assert_eq!(figures(0.0, 2), "0");
        assert_eq!(figures(1234.0, 2), "1200");
        assert_eq!(figures(-0.0456, 2), "-0.046");
    }

    #[test]
    fn both_systems() {
        // NIST SP 811: 25.4 um a thou, 6.4516 cm2 a square inch.
        let (m, i) = (System::Metric, System::Imperial);
        assert_eq!(m.depth(0.35e-3), "0.35 mm");
        assert_eq!(i.depth(0.35e-3), "14 thou");
        assert_eq!(i.depth(f64::NAN), "0 thou");
        assert_eq!(i.depth(25.4e-3 / 16.0), "62.5 thou");
        assert_eq!(i.depth(25.4e-3 / 8.0), "125 thou");
        assert_eq!(i.depth(0.0842e-3), "3.3 thou");
        // ASTM B258: 18 gauge is 0.0403 in.
        assert_eq!(i.sheet(crate::units::gauge_m(18)), "18 ga sheet (40.3 thou)");
        assert_eq!(i.sheet(1.2e-3), "47 thou");
        assert_eq!(m.sheet(crate::units::gauge_m(18)), "1.02 mm");
        // A US gallon is 231 in3, 4 quarts, 128 fluid ounces: 3.785 412 L.
        assert_eq!(i.volume(3.785_412e-3), "4 qt");
        assert_eq!(i.volume(3.785_412e-3 / 128.0), "1 fl oz");
        assert_eq!(m.depth(0.0042e-3), "0.0042 mm");
        assert_eq!(m.temperature(295.15), "22 degC");
        assert_eq!(i.temperature(295.15), "72 degF");
        assert_eq!(m.temperature(272.9), "0 degC");
        assert_eq!(m.area(4.47e-4), "4.47 cm2");
        assert_eq!(i.area(6.4516e-4), "1 in2");
        assert_eq!(m.density(4200.0), "0.42 A/cm2");
        assert_eq!(m.length(0.45), "45 cm");
        assert_eq!(i.length(0.0254), "1 in");
        assert_eq!(m.volume(4e-4), "400 mL");
        assert_eq!(m.rise(21.3), "21 K");
    }
}
