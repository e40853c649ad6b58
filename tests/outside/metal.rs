//! Metal: constants, atomic masses, equivalent weights, penetration rate.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use restbite::laws::constants::{FARADAY, GAS, GRAVITY, STEFAN_BOLTZMANN};
use restbite::laws::faraday::{Constituent, depth_per_coulomb, equivalent_weight, mass_kg};
use restbite::stock::{Stock, find};
use restbite::units::Quantity;
use std::f64::consts::PI;
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let stock = Stock::builtin().unwrap();
    let mut checks = constants();
    checks.extend(masses(&stock));
    checks.extend(equivalent_weights(&stock));
    checks.extend(rates());
    checks
});

const MASSES: Basis = Basis {
    subject: "Metal",
    source: "IUPAC standard atomic weights, as in two published element tables",
    known: Known::Read,
    unit: "g/mol",
    tolerance: Tolerance::Relative(1e-9),
    why: "the table's own figure",
};

fn constants() -> Vec<Check> {
    let basis = Basis {
        source: "SI 2019, from the exact e, N_A, k, h, c (CODATA 2018)",
        known: Known::Exact,
        tolerance: Tolerance::Relative(1e-9),
        why: "ten digits are stored",
        ..MASSES
    };
    let (e, n_a, k) = (1.602_176_634e-19, 6.022_140_76e23, 1.380_649e-23_f64);
    let (h, c) = (6.626_070_15e-34_f64, 299_792_458.0_f64);
    let sigma = 2.0 * PI.powi(5) * k.powi(4) / (15.0 * h.powi(3) * c * c);
    let with = |unit| Basis { unit, ..basis };
    vec![
        with("C/mol").value("Faraday constant", e * n_a, FARADAY),
        with("J/(mol K)").value("gas constant", k * n_a, GAS),
        with("W/(m2 K4)").value("Stefan-Boltzmann constant", sigma, STEFAN_BOLTZMANN),
        Basis { source: "ISO 80000-3", ..with("m/s2") }.value("free fall", 9.80665, GRAVITY),
    ]
}

fn masses(stock: &Stock) -> Vec<Check> {
    [
        ("Ag", 107.8682),
        ("Cu", 63.546),
        ("Zn", 65.38),
        ("Ni", 58.6934),
        ("Ge", 72.63),
        ("Fe", 55.845),
        ("Cr", 51.9961),
    ]
    .into_iter()
    .filter_map(|(symbol, mass)| {
        let got = stock.element(symbol)?.molar_mass.is.si() * 1e3;
        Some(MASSES.value(format!("atomic mass of {symbol}"), mass, got))
    })
    .collect()
}

const G102: Basis = Basis {
    source: "ASTM G102-89, table 1",
    known: Known::Memory,
    unit: "g/eq",
    tolerance: Tolerance::Relative(5e-4),
    why: "the table's last digit and rounder atomic masses",
    ..MASSES
};

/// Nominal composition in percent with valences.
type Nominal = &'static [(&'static str, f64, f64)];

fn equivalent_weights(stock: &Stock) -> Vec<Check> {
    let nominal: [(&str, Nominal, f64); 11] = [
        ("silver, Ag 1", &[("Ag", 100.0, 1.0)], 107.87),
        ("C11000, Cu 1", &[("Cu", 100.0, 1.0)], 63.55),
        ("C11000, Cu 2", &[("Cu", 100.0, 2.0)], 31.77),
        ("C22000, Cu 2, Zn 2", &[("Cu", 90.0, 2.0), ("Zn", 10.0, 2.0)], 31.86),
        ("C23000, Cu 1, Zn 2", &[("Cu", 85.0, 1.0), ("Zn", 15.0, 2.0)], 55.65),
        ("C23000, Cu 2, Zn 2", &[("Cu", 85.0, 2.0), ("Zn", 15.0, 2.0)], 31.91),
        ("C26000, Cu 1, Zn 2", &[("Cu", 70.0, 1.0), ("Zn", 30.0, 2.0)], 49.51),
        ("C26000, Cu 2, Zn 2", &[("Cu", 70.0, 2.0), ("Zn", 30.0, 2.0)], 32.04),
        ("C70600, Cu 1, Ni 2", &[("Cu", 90.0, 1.0), ("Ni", 10.0, 2.0)], 56.92),
        (
            "S30400, Fe 2, Cr 3, Ni 2",
            &[("Fe", 71.75, 2.0), ("Cr", 19.0, 3.0), ("Ni", 9.25, 2.0)],
            25.12,
        ),
        (
            "S30400, Fe 3, Cr 6, Ni 2",
            &[("Fe", 71.75, 3.0), ("Cr", 19.0, 6.0), ("Ni", 9.25, 2.0)],
            15.72,
        ),
    ];
    let part = |symbol: &str, share: f64, valence: f64| Constituent {
        mass_share: share,
        molar_mass: stock.element(symbol).unwrap().molar_mass.is.si(),
        valence,
    };
    let mut checks: Vec<Check> = nominal
        .iter()
        .map(|(name, parts, want)| {
            let parts: Vec<_> = parts.iter().map(|(s, w, v)| part(s, w / 100.0, *v)).collect();
            G102.value(format!("equivalent weight, {name}"), *want, 1e3 * equivalent_weight(&parts))
        })
        .collect();
    // Stock alloys at their stock shares and valences.
    let arithmetic = Basis {
        source: "ASTM G102's formula by hand from nominal shares",
        known: Known::Computed,
        why: "five figures of hand arithmetic",
        ..G102
    };
    for (name, want) in
        [("sterling", 91.443), ("C26000", 32.04), ("C23000", 31.91), ("nickel silver", 31.455)]
    {
        let metal = find(&stock.metals, name).unwrap();
        let parts = metal.parts.iter().map(|p| {
            let valence = stock.element(&p.element).unwrap().valence.is.0;
            part(&p.element, p.share.is.si(), valence)
        });
        let got = 1e3 * equivalent_weight(&parts.collect::<Vec<_>>());
        checks.push(arithmetic.value(format!("equivalent weight of stock's {name}"), want, got));
    }
    checks
}

fn rates() -> Vec<Check> {
    let year = 365.25 * 86_400.0;
    // 1 uA/cm2 is 0.01 A/m2.
    let mm_a_year =
        |ew: f64, rho: f64| 0.01 * depth_per_coulomb(1e-3 * ew, 1.0, 1e3 * rho, 1.0) * 1e3 * year;
    let g102 = Basis {
        source: "ASTM G102-89, as quoted in a published test file",
        known: Known::Read,
        unit: "mm g/(uA cm yr)",
        tolerance: Tolerance::Relative(1e-3),
        why: "three digits are printed; year of 365 or 365.25 days",
        ..G102
    };
    let day = mass_kg(0.01 * 86_400.0, 1e-3, 1.0) * 1e3;
    let coulometer = Basis {
        source: "the silver coulometer of the international ampere (1908): 1.11800 mg/C",
        known: Known::Memory,
        unit: "mg/C",
        tolerance: Tolerance::Relative(1e-4),
        why: "the ampere of 1908 is 0.99985 of today's",
        ..G102
    };
    vec![
        g102.value("penetration rate constant K1", 3.27e-3, mm_a_year(1.0, 1.0)),
        Basis { unit: "mm/yr", tolerance: Tolerance::Relative(5e-3), ..g102 }.value(
            "iron at 1 uA/cm2, EW 27.92, 7.87 g/cm3",
            0.0116,
            mm_a_year(27.92, 7.87),
        ),
        Basis { unit: "g cm2/(uA m2 d)", source: "ASTM G102-89", known: Known::Memory, ..g102 }
            .value("mass loss rate constant K2", 8.954e-3, day),
        coulometer.value("silver dissolved by a coulomb", 1.118, {
            mass_kg(1.0, 0.107_868_2, 1.0) * 1e6
        }),
    ]
}

#[test]
fn metal() {
    assert_all(&CHECKS);
}
