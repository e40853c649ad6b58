//! Integration: the state scaled to the order of one, and followed either over time or,
//! where a depth is to be met, over depth itself, so that no event has to be looked for.

use super::model::Model;
use super::rates::{State, loaded, rates};
use ode_solvers::dop_shared::OutputType;
use ode_solvers::dop853::Dop853;
use ode_solvers::{SVector, System};

/// Fifteen scaled states and the clock.
type Vector = SVector<f64, 16>;

/// Where to stop.
#[derive(Clone, Copy)]
pub enum Until {
    /// This long, s.
    Time(f64),
    /// This deep, m.
    Depth(f64),
}

/// Where it came to.
#[derive(Clone, Copy)]
pub struct Ended {
    pub state: State,
    pub time_s: f64,
    /// What was dissolved when the current last went on, mol/m3.
    begun: [f64; 2],
}

const RELATIVE: f64 = 1e-10;
const ABSOLUTE: f64 = 1e-12;

struct Followed<'a> {
    m: &'a Model,
    on: bool,
    scale: Vector,
    over_depth: bool,
}

fn scale(m: &Model) -> Vector {
    let charge = m.pack().map_or(1.0, |p| p.capacity);
    Vector::from([
        charge, charge, 1.0, 300.0, 300.0, 300.0, 1000.0, 1000.0, m.depth, 1000.0, 1e-2, 1e-2,
        1e-2, 1000.0, 1000.0, 1000.0,
    ])
}

fn pack(y: &State, time: f64) -> Vector {
    let [a, b] = y.c;
    Vector::from([
        y.q1, y.q2, y.u, y.core, y.skin, y.bath, a, b, y.depth, y.charge, y.loose, y.held,
        y.copper, y.on, y.loose_s, time,
    ])
}

fn unpack(v: &Vector) -> State {
    State {
        q1: v[0],
        q2: v[1],
        u: v[2],
        core: v[3],
        skin: v[4],
        bath: v[5],
        c: [v[6], v[7]],
        depth: v[8],
        charge: v[9],
        loose: v[10],
        held: v[11],
        copper: v[12],
        on: v[13],
        loose_s: v[14],
    }
}

impl System<f64, Vector> for Followed<'_> {
    fn system(&self, _: f64, y: &Vector, dy: &mut Vector) {
        let (d, _) = rates(self.m, &unpack(&y.component_mul(&self.scale)), self.on);
        let slower = if self.over_depth { d.depth } else { 1.0 };
        *dy = (pack(&d, 1.0) / slower).component_div(&self.scale);
    }
}

/// The state before the current is on.
fn start(m: &Model) -> Ended {
    let mut y = State {
        bath: m.bath_k,
        core: m.ambient,
        skin: m.ambient,
        depth: m.begun,
        ..State::default()
    };
    for (k, metal) in m.metals.iter().enumerate() {
        y.c[k] = metal.c0;
    }
    if let Some(p) = m.pack() {
        y.q1 = p.left * p.share * p.capacity;
        y.q2 = p.left * (1.0 - p.share) * p.capacity;
    }
    Ended { state: y, time_s: 0.0, begun: y.c }
}

/// Current on, from the start or from where it stood.
pub fn follow(m: &Model, from: Option<Ended>, until: Until) -> Ended {
    let mut from = from.unwrap_or_else(|| start(m));
    from.begun = from.state.c;
    match until {
        Until::Time(for_s) => integrate(m, from, true, false, (0.0, for_s)),
        Until::Depth(depth) => integrate(m, from, true, true, (from.state.depth, depth)),
    }
}

/// The same piece, bath and pan with another source, its cells fresh and as warm as the air.
pub fn onto(m: &Model, from: Ended) -> Ended {
    let fresh = start(m).state;
    let State { q1, q2, u, core, skin, .. } = fresh;
    Ended { state: State { q1, q2, u, core, skin, ..from.state }, ..from }
}

/// Voltage of a cell with the current on, V.
pub fn cell_v(m: &Model, at: &Ended) -> f64 {
    let (_, current) = rates(m, &at.state, true);
    let pack = m.pack().expect("cells");
    loaded(pack, &at.state, current / pack.parallel)
}

/// Current off for so long, s: what was under the piece spreads over the bath, and silver falls
/// on the pan's copper.
pub fn rest(m: &Model, mut from: Ended, for_s: f64) -> Ended {
    for (k, metal) in m.metals.iter().enumerate().filter(|(_, metal)| !metal.of_bath) {
        assert!(metal.c0 == 0.0 || from.begun[k] > 0.0);
        from.state.c[k] = from.begun[k] + (from.state.c[k] - from.begun[k]) * m.reach / m.volume;
    }
    integrate(m, from, false, false, (0.0, for_s))
}

fn integrate(m: &Model, from: Ended, on: bool, over_depth: bool, span: (f64, f64)) -> Ended {
    let scale = scale(m);
    let y = pack(&from.state, from.time_s).component_div(&scale);
    let system = Followed { m, on, scale, over_depth };
    // The usual control, a first step small enough for the first metal in a bath without.
    let (first, longest) = (1e-9 * (span.1 - span.0), span.1 - span.0);
    let mut solver = Dop853::from_param(
        system,
        span.0,
        span.1,
        longest,
        y,
        RELATIVE,
        ABSOLUTE,
        0.9,
        0.0,
        0.333,
        6.0,
        longest,
        first,
        100_000,
        u32::MAX,
        OutputType::Sparse,
    );
    solver.integrate().expect("integrated");
    let end = solver.y_out().last().expect("an end").component_mul(&scale);
    Ended { state: unpack(&end), time_s: end[15], begun: from.begun }
}
