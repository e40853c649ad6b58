//! One case: a job with a source, resolved on the bench as the job's profile knows it, the
//! limits that bound it, and its nominal run. Made once and handed on; whatever advises reads
//! it, and only it.

use super::bounds::Bounds;
use super::cycle::Warmth;
use super::error::AdviceError;
use super::weighed::Weighed;
use crate::job::resolve::{Factors, Geometry, Resolved, Rows, resolve, resolved};
use crate::job::{Job, Source};
use crate::run::{Precision, Run, Setup, Trace, run, trace};
use crate::stock::Stock;

/// A job with a source, and how its nominal run goes.
#[derive(Debug, Clone)]
pub struct Case<'a> {
    /// The job.
    pub job: &'a Job,
    /// Where its numbers come from.
    pub stock: &'a Stock,
    /// What pushes the current: the job's own source, or another in its place.
    pub source: Source,
    /// Every number used.
    pub setup: Setup,
    /// Every number as a row, each with where it is from.
    pub rows: Rows,
    /// What the run is held against.
    pub bounds: Bounds,
    /// The nominal run, without a rest.
    pub run: Run,
}

impl<'a> Case<'a> {
    /// Of a job with a source.
    ///
    /// # Examples
    ///
    /// ```
    #[doc = include_str!("../fern_pin.in")]
    /// use restbite::advice::Case;
    ///
    /// let case = Case::of(&job, source, &stock)?;
    /// assert!((10.0..20.0).contains(&(case.run.time_s / 60.0)));
    /// assert!(case.density() < 6e3); // A/m2
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// When stock lacks a number or the run cannot be worked out.
    pub fn of(job: &'a Job, source: &Source, stock: &'a Stock) -> Result<Self, AdviceError> {
        let resolved = resolved(job, source, stock)?;
        let run = run(&resolved.setup, Precision::default())?;
        Ok(Self::with(job, source, stock, resolved, run))
    }

    /// Of a job with a source, and the run over time in so many points besides.
    ///
    /// # Errors
    /// As [`Case::of`].
    pub fn traced(
        job: &'a Job,
        source: &Source,
        stock: &'a Stock,
        points: usize,
    ) -> Result<(Self, Trace), AdviceError> {
        let resolved = resolved(job, source, stock)?;
        let (run, trace) = trace(&resolved.setup, Precision::default(), points)?;
        Ok((Self::with(job, source, stock, resolved, run), trace))
    }

    fn with(
        job: &'a Job,
        source: &Source,
        stock: &'a Stock,
        Resolved { setup, rows }: Resolved,
        run: Run,
    ) -> Self {
        let bounds = Bounds::of(job, source, stock);
        Self { job, stock, source: source.clone(), setup, rows, bounds, run }
    }

    /// The setup with every uncertain input moved by these factors.
    ///
    /// # Errors
    /// When stock lacks a number.
    pub fn moved(&self, factors: &Factors) -> Result<Setup, AdviceError> {
        Ok(resolve(self.job, &self.source, self.stock, factors)?)
    }

    /// The nominal run with what it is held against.
    pub fn weighed(&self) -> Weighed<'_> {
        self.weigh(&self.setup, &self.run)
    }

    /// Another run of the same job.
    pub fn weigh<'b>(&'b self, setup: &'b Setup, run: &'b Run) -> Weighed<'b> {
        let Self { job, stock, source, bounds, .. } = self;
        Weighed { job, source, stock, bounds, setup, run }
    }

    /// The sheet over the pan.
    pub fn geometry(&self) -> Geometry {
        Geometry::of(self.job, &self.source)
    }

    /// The temperatures that cells must stay under.
    pub fn warmth(&self) -> Warmth {
        Warmth {
            hot_spot_k: self.setup.cells().map_or(f64::INFINITY, |p| p.temperature_limit_k),
            surface_k: self.bounds.touch_k,
        }
    }

    /// Hottest spot and surface of the nominal run, K; none without cells.
    pub fn peaks(&self) -> Option<(f64, f64)> {
        self.run.peak_hot_spot_k.zip(self.run.peak_surface_k)
    }

    /// Highest current density on the bare metal, A/m2.
    pub fn density(&self) -> f64 {
        self.run.extremes.current_a / self.setup.piece.exposed_area
    }
}

/// The job's own source.
///
/// # Errors
/// When it has none.
pub fn own_source(job: &Job) -> Result<&Source, AdviceError> {
    job.source.as_ref().ok_or(AdviceError::NoSource)
}
