//! Files that people write: a TOML text as a tree whose values know where they stand, and a
//! reader of its tables that says everything that is wrong, and where, at once.

mod complaint;
mod lists;
pub mod mistaken;
mod named;
mod suggest;
mod syntax;
mod table;
pub mod tree;

pub use crate::units::short;
pub use complaint::{Complaint, Complaints, Ledger, Place};
pub use named::{Named, find};
pub use suggest::{nearest, quoted};
pub use table::{At, Reader};
pub use tree::{Item, LONGEST, Node, Table};
