//! Electrode potentials, Nernst slopes, Butler-Volmer limits, limiting currents.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use restbite::laws::anode::Anode;
use restbite::laws::cathode::{Hydrogen, Plating};
use restbite::laws::constants::{Dissolved, inverse_thermal_voltage};
use restbite::laws::film::{Film, Stirring};
use restbite::stock::{AnodeData, CathodeData, Electrodes, Stock, find};
use restbite::units::Quantity;
use std::sync::LazyLock;

const ROOM_K: f64 = 298.15;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let electrodes = Stock::builtin().unwrap().electrodes;
    let mut checks = standard(&electrodes);
    checks.extend(nernst(&electrodes));
    checks.extend(tafel(&electrodes));
    checks.extend(small_currents(&electrodes));
    checks.extend(film(&electrodes));
    checks
});

const TABLE: Basis = Basis {
    subject: "Electrodes",
    source: "standard electrode potentials at 25 degC, textbook appendix",
    known: Known::Read,
    unit: "V",
    tolerance: Tolerance::Absolute(1e-9),
    why: "the table's own figure",
};

fn anode(electrodes: &Electrodes, symbol: &str) -> Anode {
    let row: &AnodeData = electrodes.anode.iter().find(|a| a.species == symbol).unwrap();
    Anode {
        e0_v: row.e0.is.si(),
        n: row.n.is.0,
        alpha: row.alpha.is.0,
        i0: row.i0.is.si(),
        charge_share: 1.0,
        film: still(),
    }
}

/// The film of copper in the acid bath, at the sheet and at the pan alike.
fn still() -> Film {
    let stock = Stock::builtin().unwrap();
    let acid = find(&stock.baths, "acid copper sulphate").unwrap();
    let row = acid.transfer_of("Cu").unwrap();
    assert_eq!(row.face.is, row.pan.is);
    Film { free: row.face.is.si(), forced: 0.0 }
}

fn plating(electrodes: &Electrodes, symbol: &str) -> Plating {
    let row: &CathodeData = electrodes.cathode.iter().find(|a| a.species == symbol).unwrap();
    Plating { e0_v: row.e0.is.si(), n: row.n.is.0, alpha: row.alpha.is.0, i0: row.i0.is.si() }
}

fn standard(electrodes: &Electrodes) -> Vec<Check> {
    let e0 = |symbol| anode(electrodes, symbol).e0_v;
    let crc = Basis {
        source: "CRC Handbook, electrochemical series",
        known: Known::Memory,
        tolerance: Tolerance::Absolute(2.5e-3),
        why: "tables differ: 0.337 to 0.342 V for copper",
        ..TABLE
    };
    let gibbs = Basis {
        source: "Gibbs energies of the aqueous ions (CRC, in a published data file)",
        known: Known::Computed,
        tolerance: Tolerance::Absolute(3.5e-3),
        why: "how far the two ways agree for the noble metals",
        ..TABLE
    };
    vec![
        TABLE.value("Ag+/Ag", 0.7996, e0("Ag")),
        TABLE.value("Cu2+/Cu", 0.340, e0("Cu")),
        crc.value("Ag+/Ag", 0.7996, e0("Ag")),
        crc.value("Cu2+/Cu", 0.3419, e0("Cu")),
        gibbs.value("Ag+/Ag", 0.7991, e0("Ag")),
        gibbs.value("Cu2+/Cu", 0.3394, e0("Cu")),
    ]
}

fn nernst(electrodes: &Electrodes) -> Vec<Check> {
    let basis = Basis {
        source: "Nernst equation, any electrochemistry text",
        known: Known::Exact,
        unit: "mV",
        tolerance: Tolerance::Absolute(0.005),
        why: "two decimals are printed",
        ..TABLE
    };
    let f = inverse_thermal_voltage(ROOM_K);
    let decade = |symbol, f| {
        let a = anode(electrodes, symbol);
        1e3 * (a.equilibrium_v(Dissolved::of(1000.0), f) - a.equilibrium_v(Dissolved::of(100.0), f))
    };
    let copper = plating(electrodes, "Cu");
    let pan = 1e3
        * (copper.equilibrium_v(Dissolved::of(1000.0), f)
            - copper.equilibrium_v(Dissolved::of(100.0), f));
    let ph = 1e3 * (Hydrogen::equilibrium_v(3.0, f) - Hydrogen::equilibrium_v(4.0, f));
    vec![
        basis.value("silver sheet, a decade of concentration, 25 degC", 59.16, decade("Ag", f)),
        basis.value("copper sheet, the same", 29.58, decade("Cu", f)),
        basis.value("copper at the pan, the same", 29.58, pan),
        basis.value("hydrogen, a unit of pH, 25 degC", 59.16, ph),
        basis.value(
            "silver sheet, a decade, 50 degC",
            64.12,
            decade("Ag", inverse_thermal_voltage(323.15)),
        ),
    ]
}

fn tafel(electrodes: &Electrodes) -> Vec<Check> {
    let f = inverse_thermal_voltage(ROOM_K);
    let range = Basis {
        source: "Tafel slopes of copper and of hydrogen in acid (Mattsson and Bockris 1959; \
                 Trasatti 1972 class)",
        known: Known::Memory,
        unit: "mV/decade",
        tolerance: Tolerance::Within,
        why: "measured slopes come to about this",
        ..TABLE
    };
    // Between ten and a hundred thousand times the exchange current, without a film.
    let copper = plating(electrodes, "Cu");
    let endless = copper.limit(1e9, 1000.0);
    let hydrogen =
        Hydrogen { i0: electrodes.hydrogen.i0.is.si(), alpha: electrodes.hydrogen.alpha.is.0 };
    let slope = |i: &dyn Fn(f64) -> f64| 1e3 * 0.2 / (i(-0.5) / i(-0.3)).log10();
    let plate = slope(&|e| copper.at(e, 0.0, endless, f).i);
    let gas = slope(&|e| hydrogen.at(e, 0.0, f).i);
    let sheet = anode(electrodes, "Cu");
    let dissolve = 1e3
        * (sheet.at(1e6, Dissolved::of(1e3), f).activation_v
            - sheet.at(1e4, Dissolved::of(1e3), f).activation_v)
        / 2.0;
    vec![
        range.check("copper plating", Expected::Between(118.0, 120.0), plate),
        range.check("hydrogen", Expected::Between(118.0, 120.0), gas),
        range.check("copper dissolving", Expected::Between(38.0, 42.0), dissolve),
    ]
}

fn small_currents(electrodes: &Electrodes) -> Vec<Check> {
    let f = inverse_thermal_voltage(ROOM_K);
    let basis = Basis {
        source: "Butler-Volmer equation",
        known: Known::Exact,
        unit: "ohm cm2",
        tolerance: Tolerance::Relative(1e-4),
        why: "taken at a small current, not at none",
        ..TABLE
    };
    // R_ct = RT/(n F i0).
    let rct = |n: f64, i0: f64| 1e4 / (n * f * i0);
    let silver = anode(electrodes, "Ag");
    let at_sheet = 1e4 * silver.at(1e-2, Dissolved::of(1e3), f).activation_v / 1e-2;
    let copper = plating(electrodes, "Cu");
    let endless = copper.limit(1e9, 1000.0);
    let at_pan = 1e4 * 1e-6 / copper.at(-1e-6, 0.0, endless, f).i;
    let sheet = anode(electrodes, "Cu");
    // At 50 times i0 solved by substitution: i/i0 = exp(1.5 f eta) - exp(-0.5 f eta).
    let mut eta: f64 = 0.0;
    for _ in 0..60 {
        eta = (50.0 + (-0.5 * f * eta).exp()).ln() / (1.5 * f);
    }
    let full = Basis {
        unit: "mV",
        tolerance: Tolerance::Relative(5e-3),
        why: "the model's asinh is Butler-Volmer with equal branches; they meet above 10 i0",
        ..basis
    };
    vec![
        basis.value("charge-transfer resistance, silver sheet", rct(1.0, silver.i0), at_sheet),
        basis.value("charge-transfer resistance, copper at the pan", rct(2.0, copper.i0), at_pan),
        full.value(
            "activation of the copper sheet at 50 times i0",
            1e3 * eta,
            1e3 * sheet.at(50.0 * sheet.i0, Dissolved::of(1e3), f).activation_v,
        ),
    ]
}

fn film(electrodes: &Electrodes) -> Vec<Check> {
    let range = Basis {
        source: "unstirred acid copper baths, 4 to 8 mA/cm2 for each 0.1 mol/L (Selman and \
                 Tobias 1978; Ibl)",
        known: Known::Memory,
        unit: "mA/cm2",
        tolerance: Tolerance::Within,
        why: "the published range",
        ..TABLE
    };
    let closed = Basis {
        source: "diffusion layer: the limiting current, drawn from the sheet, doubles what stands \
                 in the bath",
        known: Known::Exact,
        unit: "mol/L",
        tolerance: Tolerance::Relative(1e-9),
        why: "an identity",
        ..TABLE
    };
    let f = inverse_thermal_voltage(ROOM_K);
    let (copper, sheet) = (plating(electrodes, "Cu"), anode(electrodes, "Cu"));
    let limit = copper.limit(still().to_pan(Stirring::by(100.0)), 100.0);
    vec![
        range.check(
            "limiting current, 0.1 mol/L, still",
            Expected::Between(4.0, 8.0),
            limit / 10.0,
        ),
        closed.value(
            "copper at the sheet, 0.1 mol/L in the bath",
            0.2,
            1e-3 * sheet.at(limit, Dissolved::of(100.0), f).surface,
        ),
    ]
}

#[test]
fn electrodes() {
    assert_all(&CHECKS);
}
