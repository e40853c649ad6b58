//! Laplace's equation between an electrode at z = 0 and a wide plane at z = h, by finite
//! volumes on a graded grid: conductance for a conductivity of one. Everything else is
//! insulating. Conjugate gradients with an incomplete Cholesky factor (modified, 0.97).

use std::f64::consts::PI;

/// Faces of the cells along each axis. `polar`: x is the radius and y is not used.
pub struct Grid {
    pub x: Vec<f64>,
    pub y: Vec<f64>,
    pub z: Vec<f64>,
    pub polar: bool,
}

/// Faces from 0 to `length`, the first `finest` apart, each further by `growth`.
pub fn graded(length: f64, finest: f64, growth: f64) -> Vec<f64> {
    let mut faces = vec![0.0];
    let (mut x, mut step) = (0.0, finest);
    while x < length {
        x += step;
        step *= growth;
        faces.push(x);
    }
    faces.iter().map(|f| f * length / x).collect()
}

/// Faces on both sides of `edge`, finest there: from 0 to `edge` and on to `edge + beyond`.
pub fn about_edge(edge: f64, beyond: f64, finest: f64, growth: f64) -> Vec<f64> {
    let inner = graded(edge, finest, growth);
    let outer = graded(beyond, finest, growth);
    let mut faces: Vec<f64> = inner.iter().rev().map(|d| edge - d).collect();
    faces.extend(outer.iter().skip(1).map(|d| edge + d));
    faces
}

fn halved(faces: &[f64]) -> Vec<f64> {
    let mut fine = vec![faces[0]];
    for pair in faces.windows(2) {
        fine.extend([0.5 * (pair[0] + pair[1]), pair[1]]);
    }
    fine
}

impl Grid {
    /// Every cell cut in two along each axis.
    pub fn refined(&self) -> Self {
        let y = if self.y.len() == 2 { self.y.clone() } else { halved(&self.y) };
        Self { x: halved(&self.x), y, z: halved(&self.z), polar: self.polar }
    }

    fn counts(&self) -> [usize; 3] {
        [self.x.len() - 1, self.y.len() - 1, self.z.len() - 1]
    }

    /// Areas of a cell's faces towards +x, +y and +z.
    fn areas(&self, [i, j, k]: [usize; 3]) -> [f64; 3] {
        let width = |f: &[f64], i: usize| f[i + 1] - f[i];
        let dz = width(&self.z, k);
        if self.polar {
            let (a, b) = (self.x[i], self.x[i + 1]);
            return [2.0 * PI * b * dz, 0.0, PI * (b * b - a * a)];
        }
        let (dx, dy) = (width(&self.x, i), width(&self.y, j));
        [dy * dz, dx * dz, dx * dy]
    }
}

/// The matrix: a diagonal and the couplings to the next cell along x, y, z.
struct Matrix {
    steps: [usize; 3],
    diagonal: Vec<f64>,
    next: [Vec<f64>; 3],
}

impl Matrix {
    fn times(&self, v: &[f64], out: &mut [f64]) {
        for (n, o) in out.iter_mut().enumerate() {
            *o = self.diagonal[n] * v[n];
        }
        for (step, next) in self.steps.iter().zip(&self.next) {
            for n in 0..v.len().saturating_sub(*step) {
                let c = next[n];
                out[n] -= c * v[n + step];
                out[n + step] -= c * v[n];
            }
        }
    }

    /// Inverse diagonal of the incomplete factor.
    fn factor(&self) -> Vec<f64> {
        let mut inverse = vec![0.0; self.diagonal.len()];
        for n in 0..inverse.len() {
            let mut d = self.diagonal[n];
            for (a, step) in self.steps.iter().enumerate().filter(|(_, s)| **s <= n) {
                let m = n - step;
                let c = self.next[a][m];
                let others: f64 = (0..3).filter(|b| *b != a).map(|b| self.next[b][m]).sum();
                d -= c * (c + 0.97 * others) * inverse[m];
            }
            inverse[n] = 1.0 / d;
        }
        inverse
    }

    /// Solves with the incomplete factor in place.
    fn precondition(&self, inverse: &[f64], v: &mut [f64]) {
        let size = v.len();
        for n in 0..size {
            for (step, next) in self.steps.iter().zip(&self.next) {
                if *step <= n {
                    v[n] += next[n - step] * v[n - step];
                }
            }
            v[n] *= inverse[n];
        }
        for n in (0..size).rev() {
            for (step, next) in self.steps.iter().zip(&self.next) {
                if n + step < size {
                    v[n] += inverse[n] * next[n] * v[n + step];
                }
            }
        }
    }

    fn solve(&self, right: &[f64]) -> Vec<f64> {
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let inverse = self.factor();
        let mut x = vec![0.0; right.len()];
        let mut r = right.to_vec();
        let mut z = r.clone();
        self.precondition(&inverse, &mut z);
        let (mut p, mut w, mut rz) = (z.clone(), vec![0.0; right.len()], dot(&r, &z));
        let enough = 1e-18 * rz;
        while rz > enough {
            self.times(&p, &mut w);
            let a = rz / dot(&p, &w);
            for n in 0..x.len() {
                x[n] += a * p[n];
                r[n] -= a * w[n];
            }
            z.copy_from_slice(&r);
            self.precondition(&inverse, &mut z);
            let new = dot(&r, &z);
            for n in 0..p.len() {
                p[n] = z[n] + new / rz * p[n];
            }
            rz = new;
        }
        x
    }
}

fn middle(faces: &[f64], i: usize) -> f64 {
    0.5 * (faces[i] + faces[i + 1])
}

/// Couplings of each cell to the electrode, and potentials, the electrode at one and the plane
/// at nothing; `bare` says where, by a cell's middle, the plane z = 0 is electrode.
fn solved(grid: &Grid, bare: impl Fn(f64, f64) -> bool) -> (Vec<f64>, Vec<f64>) {
    let [nx, ny, nz] = grid.counts();
    let size = nx * ny * nz;
    let zeros = || vec![0.0; size];
    let mut matrix =
        Matrix { steps: [1, nx, nx * ny], diagonal: zeros(), next: [zeros(), zeros(), zeros()] };
    let mut right = zeros();
    for (n, right) in right.iter_mut().enumerate() {
        let at = [n % nx, n / nx % ny, n / (nx * ny)];
        let areas = grid.areas(at);
        for (a, faces) in [&grid.x, &grid.y, &grid.z].into_iter().enumerate() {
            if at[a] + 2 < faces.len() {
                let c = areas[a] / (middle(faces, at[a] + 1) - middle(faces, at[a]));
                matrix.next[a][n] = c;
                matrix.diagonal[n] += c;
                matrix.diagonal[n + matrix.steps[a]] += c;
            }
        }
        let z = &grid.z;
        if at[2] + 1 == nz {
            matrix.diagonal[n] += areas[2] / (z[nz] - middle(z, nz - 1));
        }
        if at[2] == 0 && bare(middle(&grid.x, at[0]), middle(&grid.y, at[1])) {
            *right = areas[2] / middle(z, 0);
            matrix.diagonal[n] += *right;
        }
    }
    let v = matrix.solve(&right);
    (right, v)
}

fn carried((right, v): &(Vec<f64>, Vec<f64>)) -> f64 {
    right.iter().zip(v).map(|(c, v)| c * (1.0 - v)).sum()
}

/// Conductance in metres (for a conductivity of one).
pub fn conductance(grid: &Grid, bare: impl Fn(f64, f64) -> bool) -> f64 {
    carried(&solved(grid, bare))
}

/// Area in square metres that would carry all current at the density with which it lands under
/// the origin, extrapolated as [`extrapolated`].
pub fn core_area(grid: &Grid, bare: impl Fn(f64, f64) -> bool) -> f64 {
    richardson(grid, |grid| {
        let solution = solved(grid, &bare);
        let ([nx, ny, nz], z) = (grid.counts(), &grid.z);
        let density = solution.1[(nz - 1) * nx * ny] / (z[nz] - middle(z, nz - 1));
        carried(&solution) / density
    })
}

/// Conductance from this grid, its halves and its quarters.
pub fn extrapolated(grid: &Grid, bare: impl Fn(f64, f64) -> bool) -> f64 {
    richardson(grid, |grid| conductance(grid, &bare))
}

/// What three grids give, each of half the cells' size, freed of the error that goes with the
/// size of the cells (at the electrode's edge) and of that with its square (Richardson).
fn richardson(grid: &Grid, of: impl Fn(&Grid) -> f64) -> f64 {
    let half = grid.refined();
    let [a, b, c] = [grid, &half, &half.refined()].map(of);
    (8.0 * c - 6.0 * b + a) / 3.0
}
