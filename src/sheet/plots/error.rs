//! Why a plot cannot be made.

use plotters::drawing::DrawingAreaErrorKind;
use std::error::Error as StdError;
use thiserror::Error;

/// Why there is no plot.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum PlotError {
    /// There is nothing to plot, or more than a plot holds.
    #[error("{items} {of}, expected {expected}")]
    Count {
        /// How many there are.
        items: usize,
        /// Of what.
        of: &'static str,
        /// How many would do.
        expected: String,
    },
    /// A curve that has not one point for each time.
    #[error("{holder} holds {points} points of {of}, expected {expected}, one for each time")]
    Uneven {
        /// What it is a curve of: a trace, say.
        holder: String,
        /// Which curve.
        of: &'static str,
        /// Its points.
        points: usize,
        /// Times.
        expected: usize,
    },
    /// The canvas cannot be painted.
    #[error("the canvas: {0}")]
    Canvas(String),
}

/// What comes of painting.
pub type Painted<T> = Result<T, PlotError>;

impl<E: StdError + Send + Sync> From<DrawingAreaErrorKind<E>> for PlotError {
    fn from(error: DrawingAreaErrorKind<E>) -> Self {
        Self::Canvas(error.to_string())
    }
}

/// Refuses a curve that has not one point for each time.
///
/// # Errors
/// Then.
pub fn even(holder: &str, of: &'static str, points: usize, expected: usize) -> Painted<()> {
    if points == expected {
        return Ok(());
    }
    Err(PlotError::Uneven { holder: holder.into(), of, points, expected })
}
