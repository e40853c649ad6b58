//! Why a source cannot do a piece.

use crate::advice::size::Reason;
use crate::run::Stop;

/// Why a piece cannot be had from a source.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Why {
    /// It does not suit.
    Unfit(Vec<Reason>),
    /// A limit of the current that it passes as the source stands.
    Current(Reason),
    /// The end that comes before the depth, with no fresh charge left.
    Stop(Stop),
}

impl Why {
    /// Whether cells that have cooled may do it: they do not get as hot and, colder, push less.
    pub fn rest_may_mend(&self) -> bool {
        matches!(self, Self::Current(_) | Self::Stop(Stop::Hot))
    }
}
