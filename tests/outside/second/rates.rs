//! Operating point and rates of change.

use super::model::{F, G, Model, Pack, R, SIGMA, Source};

/// The state in natural units: C, V, K, mol/m3.
#[derive(Clone, Copy, Default)]
pub struct State {
    pub q1: f64,
    pub q2: f64,
    pub u: f64,
    pub core: f64,
    pub skin: f64,
    pub bath: f64,
    pub c: [f64; 2],
    pub depth: f64,
    pub charge: f64,
    /// Silver on the pan, loose and held, and copper, mol.
    pub loose: f64,
    pub held: f64,
    pub copper: f64,
    /// Time with the current on, and of that the loose share, s.
    pub on: f64,
    pub loose_s: f64,
}

/// A piecewise linear curve, flat outside.
pub fn along(points: &[(f64, f64)], x: f64) -> f64 {
    let last = points.len() - 1;
    if x <= points[0].0 {
        return points[0].1;
    }
    for pair in points.windows(2) {
        let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
        if x <= x1 {
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0);
        }
    }
    points[last].1
}

fn ln_molar(c: f64) -> f64 {
    (c / 1000.0).max(1e-6).ln()
}

/// The bath at one state: what the electrodes answer to a current or a potential.
struct Bath<'a> {
    m: &'a Model,
    f: f64,
    c: [f64; 2],
    limit: [f64; 2],
    warm: f64,
    rest: [f64; 2],
    rest_h: f64,
    ohm: f64,
}

impl<'a> Bath<'a> {
    fn new(m: &'a Model, y: &State) -> Self {
        let f = F / (R * y.bath);
        let factor = (1.0 + m.beta * (y.bath - 298.15)).clamp(0.4, 2.5);
        let mut rest = [f64::NEG_INFINITY; 2];
        for (k, metal) in m.metals.iter().enumerate() {
            rest[k] = metal.e0 + ln_molar(y.c[k]) / (metal.n * f);
        }
        let warm = (1.0 + m.warmer * (y.bath - 298.15)).clamp(0.4, 2.5);
        let all: f64 = y.c.iter().map(|c| c.max(0.0)).sum();
        let mut limit = [0.0; 2];
        for (k, metal) in m.metals.iter().enumerate() {
            let cube = (metal.free * warm).powi(3) * all + metal.forced.powi(3);
            limit[k] = metal.n * F * cube.powf(1.0 / 3.0) * y.c[k].max(0.0);
        }
        Self {
            m,
            f,
            c: y.c,
            limit,
            warm,
            rest,
            rest_h: -std::f64::consts::LN_10 * m.ph / f,
            ohm: m.shape / (m.kappa25 * factor),
        }
    }

    /// Current densities of the metals and of hydrogen at a pan's potential.
    fn pan(&self, e: f64) -> ([f64; 2], f64) {
        let mut i = [0.0; 2];
        for (k, metal) in self.m.metals.iter().enumerate() {
            let d = e - self.rest[k];
            if d < 0.0 && self.c[k] > 0.0 {
                let b = metal.i0
                    * ((-metal.alpha * self.f * d).exp()
                        - ((metal.n - metal.alpha) * self.f * d).exp());
                i[k] = self.limit[k] / (1.0 + self.limit[k] / b);
            }
        }
        let d = e - self.rest_h;
        let a = self.m.h2_alpha;
        let h = if d < 0.0 {
            self.m.h2_i0 * ((-a * self.f * d).exp() - ((1.0 - a) * self.f * d).exp())
        } else {
            0.0
        };
        (i, h)
    }

    fn pan_current(&self, e: f64) -> f64 {
        let (i, h) = self.pan(e);
        self.m.core * h + (0..self.m.metals.len()).map(|k| self.area(k) * i[k]).sum::<f64>()
    }

    /// Area of the pan that a metal comes down on.
    fn area(&self, k: usize) -> f64 {
        if self.m.metals[k].of_bath { self.m.core } else { self.m.spread }
    }

    /// What the piece's film builds up, mol/m3: the cubic by bisection in its logarithm.
    fn built_up(&self, density: f64) -> f64 {
        let a = &self.m.anode;
        let flux = self.m.main_share * density / (a.n * F);
        if flux <= 0.0 {
            return 0.0;
        }
        let over = |ln: f64| {
            let dc = ln.exp();
            let k = ((a.free * self.warm).powi(3) * dc + a.forced.powi(3)).cbrt();
            k * dc > flux
        };
        let (mut low, mut high) = (-200.0, 60.0);
        while high - low > 1e-14 * f64::abs(low).max(1.0) {
            let mid = 0.5 * (low + high);
            if mid <= low || mid >= high {
                break;
            }
            if over(mid) { high = mid } else { low = mid }
        }
        (0.5 * (low + high)).exp()
    }

    /// The piece's potential, activation and what the film adds, V.
    fn piece(&self, current: f64) -> (f64, f64, f64) {
        let a = &self.m.anode;
        let density = current / self.m.bare;
        let bulk = self.c[self.m.main];
        let surface = bulk + self.built_up(density);
        let activation = (density / (2.0 * a.i0)).asinh() / (a.alpha * self.f);
        let nernst = ln_molar(surface) / (a.n * self.f);
        let film = (ln_molar(surface) - ln_molar(bulk)) / (a.n * self.f);
        (a.e0 + nernst + activation, activation, film)
    }

    /// Highest potential at which the pan carries nothing.
    fn pan_rest(&self) -> f64 {
        let live = (0..self.m.metals.len()).filter(|k| self.c[*k] > 0.0);
        live.map(|k| self.rest[k]).fold(self.rest_h, f64::max)
    }
}

/// Halves a bracket of potentials below `top` until it can no longer be halved; `over` says
/// whether the potential lies too low.
fn potential(top: f64, over: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (top - 25.0, top);
    for _ in 0..200 {
        let mid = 0.5 * (low + high);
        if mid <= low || mid >= high {
            break;
        }
        if over(mid) { low = mid } else { high = mid }
    }
    0.5 * (low + high)
}

/// Ohm of one cell and its voltage without current.
fn cell(p: &Pack, y: &State) -> (f64, f64) {
    let s = y.q1 / (p.share * p.capacity);
    let warm = (p.r0_b * (1.0 / y.core - 1.0 / 298.15)).exp();
    (p.r0 * along(&p.r0_curve, s) * warm, along(&p.u_curve, s) - y.u)
}

/// Voltage of a cell at its current.
pub fn loaded(p: &Pack, y: &State, i: f64) -> f64 {
    let (r0, rested) = cell(p, y);
    rested - i * r0
}

/// Terminal voltage against current.
fn terminals(m: &Model, y: &State, current: f64) -> f64 {
    match &m.source {
        Source::Pack(p) => {
            let i = current / p.parallel;
            p.series * (loaded(p, y, i) - i * p.contact)
        }
        Source::Supply { set, out, .. } => set - current * out,
        Source::Adapter { open, series } => open - current * series,
    }
}

/// Current and the pan's potential with the circuit closed.
fn operate(m: &Model, y: &State, bath: &Bath) -> (f64, f64) {
    let top = bath.pan_rest();
    let short = |e: f64| {
        let current = bath.pan_current(e);
        let asked = bath.piece(current).0 - e + current * (bath.ohm + m.leads);
        terminals(m, y, current) < asked
    };
    let e = potential(top, short);
    let current = bath.pan_current(e);
    match m.source {
        Source::Supply { limit, .. } if current > limit => {
            (limit, potential(top, |e| bath.pan_current(e) > limit))
        }
        _ => (current, e),
    }
}

/// Rates of change, and current and terminal voltage with them.
pub fn rates(m: &Model, y: &State, on: bool) -> (State, f64) {
    let bath = Bath::new(m, y);
    let (current, e) = if on { operate(m, y, &bath) } else { (0.0, bath.pan_rest()) };
    let mut d = State { depth: m.depth_per_c * current, charge: current, ..State::default() };
    let (plated, gas) = if on { bath.pan(e) } else { ([0.0; 2], 0.0) };
    let mut warmed = -m.heat_loss * (y.bath - m.ambient);
    for (k, metal) in m.metals.iter().enumerate() {
        let brought = m.efficiency * current * metal.moles / F;
        let out = bath.area(k) * plated[k] / (metal.n * F);
        d.c[k] = (brought - out) / if metal.of_bath { m.volume } else { m.reach };
        warmed += bath.area(k) * plated[k] * (bath.rest[k] - e);
        match metal.symbol.as_str() {
            "Ag" => {
                let most: f64 = (0..m.metals.len()).map(|k| bath.area(k) * bath.limit[k]).sum();
                let share = (current / most - m.loose.0) / (m.loose.1 - m.loose.0);
                let share = if current > 0.0 { share.clamp(0.0, 1.0) } else { 0.0 };
                (d.loose, d.held) = (share * out, (1.0 - share) * out);
                if on {
                    (d.on, d.loose_s) = (1.0, share);
                }
            }
            _ => d.copper += out,
        }
    }
    if !on && y.copper > 0.0 && y.on > 0.0 {
        let area = m.core * (1.0 + 2.0 * y.loose_s / y.on);
        let at = |symbol: &str| m.metals.iter().position(|metal| metal.symbol == symbol);
        if let Some(silver) = at("Ag") {
            let fall = area * m.falls * y.c[silver].max(0.0).powf(4.0 / 3.0);
            d.c[silver] -= fall / m.volume;
            (d.loose, d.copper) = (fall, -0.5 * fall);
            if let Some(copper) = at("Cu") {
                d.c[copper] += 0.5 * fall / m.volume;
            }
        }
    }
    if on {
        let (_, activation, film) = bath.piece(current);
        warmed += m.core * gas * (bath.rest_h - e);
        warmed += current * current * bath.ohm + current * (activation + film);
    }
    d.bath = warmed / m.heat_capacity;
    if let Some(p) = m.pack() {
        of_cell(p, m.ambient, y, current / p.parallel, &mut d);
    }
    (d, current)
}

fn of_cell(p: &Pack, ambient: f64, y: &State, i: f64, d: &mut State) {
    let to_near = p.rate * (p.share * y.q2 - (1.0 - p.share) * y.q1);
    (d.q1, d.q2) = (to_near - i, -to_near);
    d.u = i / p.c1 - y.u / (p.r1 * p.c1);
    let full = (y.q1 + y.q2) / p.capacity;
    let heat = i * (along(&p.u_curve, full) - loaded(p, y, i)) - i * y.core * p.entropy;
    let through = (y.core - y.skin) / p.between;
    d.core = (heat - through) / p.core;
    let lost = p.air_factor * still_air(y.skin, ambient, p.diameter) * (y.skin - ambient)
        + p.emissivity * SIGMA * (y.skin.powi(4) - ambient.powi(4));
    d.skin = (through - p.open_share * p.area * lost) / p.skin;
}

/// Churchill and Chu 1975, horizontal cylinder, W/(m2 K).
fn still_air(surface: f64, ambient: f64, diameter: f64) -> f64 {
    let film = 0.5 * (surface + ambient);
    let k = 0.02624 * (film / 300.0).powf(0.8646);
    let nu = 15.89e-6 * (film / 300.0).powf(1.70);
    let pr: f64 = 0.707;
    let ra = G * (surface - ambient).abs() * diameter.powi(3) * pr / (film * nu * nu);
    let bracket = (1.0 + (0.559 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    (0.60 + 0.387 * ra.powf(1.0 / 6.0) / bracket).powi(2) * k / diameter
}
