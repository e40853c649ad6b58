//! What happens in the bath once the current is off: what was under the piece spreads, and silver
//! falls on copper.

use super::simulate::March;
use super::state::{LOOSE, LOOSE_TIME, METAL, ON_TIME, PAN_COPPER};
use crate::laws::rest_fall::Fall;

impl March<'_> {
    /// What left the piece and stayed under it spreads over the bath.
    pub(super) fn mix(&mut self) {
        let b = &self.setup.bath;
        for (k, metal) in b.plating.iter().enumerate().filter(|(_, m)| !m.of_bath) {
            let c = &mut self.y[METAL + k];
            *c = self.begun[k] + (*c - self.begun[k]) * (b.volume_of(metal) / b.volume);
        }
    }

    /// Silver that falls on the pan's copper in a rest of `t` s, and the copper that goes into
    /// the bath for it. On the core and, where the deposit is loose, as much again twice over
    /// (judgement); on all of a pan of copper, which does not run out.
    pub(super) fn fall(&mut self, t: f64) {
        let (b, y) = (&self.setup.bath, &mut self.y);
        let Some(silver) = b.index_of("Ag") else {
            return;
        };
        let loose = if y[ON_TIME] > 0.0 { y[LOOSE_TIME] / y[ON_TIME] } else { 0.0 };
        let (area, copper) = match b.pan_is_copper {
            true => (b.cathode_area, f64::INFINITY),
            false => (b.core_area * (1.0 + 2.0 * loose), y[PAN_COPPER]),
        };
        let fall = Fall { area, transfer: b.rest_transfer, volume: b.volume };
        let rested = fall.after(y[METAL + silver], copper, t);
        y[METAL + silver] = rested.silver;
        y[LOOSE] += rested.fallen;
        if !b.pan_is_copper {
            y[PAN_COPPER] = (y[PAN_COPPER] - rested.copper).max(0.0);
        }
        if let Some(copper) = b.index_of("Cu") {
            y[METAL + copper] += rested.copper / b.volume;
        }
    }
}
