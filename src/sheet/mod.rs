//! Draws what advice found: text, JSON, CSV, plots, the bench sheet. Computes nothing of its own.

pub mod charge;
pub mod csv;
mod escape;
pub mod files;
pub mod html;
pub mod ics;
pub mod json;
pub mod json_day;
pub mod json_size;
pub mod json_stock;
pub mod learn;
mod page;
pub mod plots;
pub mod profile;
pub mod rest;
pub mod spread;
pub mod text;
pub mod text_compare;
pub mod text_day;
pub mod text_size;
pub mod text_stock;
mod typeset;
mod words;
