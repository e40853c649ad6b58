//! Free convection at sheet and pan, the pan's core area, silver that falls on copper: the laws
//! alone, against published correlations, our own solution of Laplace's equation, and the
//! figures that an independent implementation of the model gave.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use super::laplace::{Grid, about_edge, core_area, graded};
use restbite::laws::constants::FARADAY;
use restbite::laws::core_area::Landing;
use restbite::laws::film::{Film, Stirring};
use restbite::laws::free_convection::{FENECH_TOBIAS, LLOYD_MORAN, Salt, WRAGG};
use restbite::laws::rest_fall::Fall;
use restbite::laws::slab::Face;
use restbite::stock::{Stock, find};
use restbite::units::Quantity;
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = face();
    checks.extend(pan());
    checks.extend(correlations());
    checks.extend(cores());
    checks.push(overnight());
    checks
});

const MODEL: Basis = Basis {
    subject: "The bath that stirs itself",
    source: "an independent implementation of the model",
    known: Known::Computed,
    unit: "mol/L",
    tolerance: Tolerance::Relative(0.01),
    why: "two to three digits are printed",
};

/// k1 of the model, m/s at 1 mol/m3 and 25 degC.
const SILVER_FACE: f64 = 2.4e-6;
const COPPER_FACE: f64 = 2.6e-6;
const COPPER_PAN: f64 = 3.3e-6;
const SULPHATE: f64 = 2.0e-6;
const WITH_ACID: f64 = 0.86e-6;

const ROOM_K: f64 = 293.15;
const STANDARD_K: f64 = 298.15;

fn still(free: f64, t_k: f64) -> Film {
    Film { free, forced: 0.0 }.at(0.024, t_k)
}

/// Silver's share of the charge that dissolves sterling.
const SILVER_SHARE: f64 = 0.788;

fn face() -> Vec<Check> {
    let film = still(SILVER_FACE, ROOM_K);
    let flux = |i: f64| SILVER_SHARE * 1e4 * i / FARADAY;
    let mut checks: Vec<Check> =
        [(0.1, 0.49), (0.25, 0.98), (0.5, 1.64), (0.82, 2.38), (1.0, 2.76)]
            .into_iter()
            .map(|(i, over)| {
                let what = format!("silver at a sterling face over the bath, {i} A/cm2, 20 degC");
                MODEL.value(what, over, 1e-3 * film.excess(flux(i)).dc)
            })
            .collect();
    let saturation = Basis {
        source: "silver nitrate dissolves to about 9 mol/L at 20 degC (published table)",
        unit: "A/cm2",
        tolerance: Tolerance::Relative(0.25),
        why: "the coefficient is good to 20 %",
        ..MODEL
    };
    // N = k1 dc^(4/3) at dc = 9 mol/L.
    let n = film.free * 9000.0 * 9000f64.cbrt();
    checks.push(saturation.value(
        "current density at which a sterling face is saturated",
        4.0,
        1e-4 * n * FARADAY / SILVER_SHARE,
    ));
    checks
}

/// Limiting current of copper, A/m2.
fn limit(k1: f64, t_k: f64, c: f64) -> f64 {
    2.0 * FARADAY * still(k1, t_k).to_pan(Stirring::by(c)) * c
}

fn pan() -> Vec<Check> {
    let printed = Basis { unit: "A/cm2", tolerance: Tolerance::Relative(0.02), ..MODEL };
    let range = Basis {
        source: "unstirred acid copper baths, 4 to 8 mA/cm2 for each 0.1 mol/L (Selman and \
                 Tobias 1978; Ibl)",
        known: Known::Memory,
        unit: "mA/cm2",
        tolerance: Tolerance::Within,
        why: "the published range",
        ..MODEL
    };
    vec![
        printed.value(
            "copper's limit at the pan, 0.5 mol/L nitrate, 20 degC",
            0.22,
            1e-4 * limit(COPPER_PAN, ROOM_K, 500.0),
        ),
        range.check(
            "copper's limit with acid, 0.1 mol/L, still",
            Expected::Between(4.0, 8.0),
            0.1 * limit(WITH_ACID, STANDARD_K, 100.0),
        ),
    ]
}

/// Diffusivities of ions at 25 degC in thin solution, m2/s (published tables; nitrate and
/// sulphate from memory), with their charges.
const SILVER: (f64, f64) = (1.648e-9, 1.0);
const COPPER: (f64, f64) = (0.714e-9, 2.0);
const NITRATE: (f64, f64) = (1.902e-9, 1.0);
const SULPHATE_ION: (f64, f64) = (1.065e-9, 2.0);

/// Diffusivity of a salt in thin solution (Nernst and Hartley), and its metal's transport number.
fn salt((plus, zp): (f64, f64), (minus, zm): (f64, f64)) -> (f64, f64) {
    let sum = zp * plus + zm * minus;
    ((zp + zm) * plus * minus / sum, zp * plus / sum)
}

/// Density that a mole adds, kg/mol, by the stock's equation about 10 mass %, 25 degC.
fn density_per_mol(name: &str) -> f64 {
    let stock = Stock::builtin().unwrap();
    let bath = find(&stock.baths, name).unwrap();
    let density = |w: f64| bath.density_law().unwrap().density(w, 25.0);
    (density(0.1) - density(0.0)) / (0.1 * density(0.1) / bath.molar_mass.is.si())
}

fn correlations() -> Vec<Check> {
    let density = Basis {
        source: "handbook tables of density",
        unit: "kg/mol",
        tolerance: Tolerance::Relative(0.05),
        why: "it falls a little with the strength",
        ..MODEL
    };
    let nitrate = density_per_mol("copper nitrate");
    let sulphate = density_per_mol("copper sulphate");
    let mut checks = vec![density.value("density by copper nitrate", 0.151, nitrate)];
    let (d_silver, _) = salt(SILVER, NITRATE);
    let (d_nitrate, t_nitrate) = salt(COPPER, NITRATE);
    let (d_sulphate, t_sulphate) = salt(COPPER, SULPHATE_ION);
    // In the film: share of the thin solution's D, viscosity, and what migration leaves to
    // diffusion. Silver nitrate's D halves by 2 mol/L (from memory), the others alike; copper
    // nitrate carries the current beside silver, so silver hardly migrates.
    let rows = [
        ("silver at the face, nitrate", SILVER_FACE, 0.139, 0.75 * d_silver, 1.05e-3, 1.0),
        ("copper at the face", COPPER_FACE, nitrate, 0.75 * d_nitrate, 1.4e-3, 1.0 - t_nitrate),
        ("copper at the pan", COPPER_PAN, nitrate, 0.9 * d_nitrate, 1.0e-3, 1.0 - t_nitrate),
        ("copper in sulphate", SULPHATE, sulphate, 0.65 * d_sulphate, 1.1e-3, 1.0 - t_sulphate),
    ];
    let sources = [
        (
            "Sh = 0.15 Ra^(1/3) (Lloyd and Moran 1974, read second-hand)",
            Known::Computed,
            LLOYD_MORAN,
        ),
        ("Sh = 0.16 Ra^(1/3) (Wragg 1968)", Known::Memory, WRAGG),
        ("Sh = 0.19 Ra^(1/3) (Fenech and Tobias 1960)", Known::Memory, FENECH_TOBIAS),
    ];
    for (what, k1, density_per_mol, diffusivity, viscosity, diffusing) in rows {
        for (source, known, c) in sources {
            let basis = Basis {
                source,
                known,
                unit: "um/s",
                tolerance: Tolerance::Relative(0.3),
                why: "the correlations lie 27 % apart; D and viscosity in the film are judged",
                ..MODEL
            };
            let salt = Salt { density_per_mol, diffusivity, viscosity };
            let want = salt.coefficient(c) / diffusing;
            let what = format!("transfer at 1 mol/m3, {what}");
            checks.push(basis.value(what, 1e6 * want, 1e6 * k1));
        }
    }
    checks
}

fn cores() -> Vec<Check> {
    let laplace = Basis {
        source: "Laplace's equation, solved in this suite",
        known: Known::Here,
        unit: "a2",
        tolerance: Tolerance::Relative(0.025),
        why: "claimed for the sum by squares",
        ..MODEL
    };
    [0.1_f64, 0.3, 0.6, 1.0, 1.5, 2.0, 3.0, 4.0]
        .into_iter()
        .map(|h: f64| {
            let finest = 0.02 * h.min(1.0);
            let grid = Grid {
                x: about_edge(1.0, 6.0 * h, finest, 1.25),
                y: vec![0.0, 1.0],
                z: graded(h, finest, 1.25),
                polar: true,
            };
            let want = core_area(&grid, |r, _| r < 1.0);
            let pan = Landing { gap: h, count: 1.0, wetted: f64::INFINITY };
            let got = pan.core(Face::Disc(1.0).shape_factor(h));
            let what = format!("core area under a disc, radius a, gap {h} a");
            laplace.value(what, want, got)
        })
        .collect()
}

/// Silver left dissolved in half a litre after a night on the plated copper, from 1.5 g.
fn overnight() -> Check {
    let (volume, silver) = (5e-4, 107.868);
    // Core 28.5 cm2, three quarters of what fell before loose: A_u (1 + 2 psi).
    let fall = Fall { area: 28.5e-4 * (1.0 + 2.0 * 0.75), transfer: 1.9e-6, volume };
    let left = fall.after(1.5 / silver / volume, 1.0, 12.0 * 3600.0).silver;
    Basis { unit: "g", tolerance: Tolerance::Within, why: "the range it gave", ..MODEL }.check(
        "silver left dissolved after a night on the plated copper, from 1.5 g",
        Expected::Between(0.1, 0.4),
        left * volume * silver,
    )
}

#[test]
fn the_bath_that_stirs_itself() {
    assert_all(&CHECKS);
}
