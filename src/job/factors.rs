//! Factors on the uncertain inputs: how a draw, or a bench, differs from the job as written.

/// Factors on the uncertain inputs; all one for the job as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// Bare share.
    pub bare_share: f64,
    /// Gap.
    pub gap: f64,
    /// Conductivity.
    pub conductivity: f64,
    /// Cell resistance, both its parts.
    pub cell_resistance: f64,
    /// Capacity.
    pub capacity: f64,
    /// Contact resistance.
    pub contact_resistance: f64,
    /// Clip resistance.
    pub clip_resistance: f64,
    /// Cooling of the cells.
    pub cooling: f64,
    /// Current efficiency.
    pub efficiency: f64,
}

impl Default for Factors {
    fn default() -> Self {
        Self {
            bare_share: 1.0,
            gap: 1.0,
            conductivity: 1.0,
            cell_resistance: 1.0,
            capacity: 1.0,
            contact_resistance: 1.0,
            clip_resistance: 1.0,
            cooling: 1.0,
            efficiency: 1.0,
        }
    }
}

impl Factors {
    /// The factor that a key of `[spread]` names.
    pub fn named(&mut self, key: &str) -> Option<&mut f64> {
        Some(match key {
            "bare_share" => &mut self.bare_share,
            "gap" => &mut self.gap,
            "conductivity" => &mut self.conductivity,
            "cell_resistance" => &mut self.cell_resistance,
            "capacity" => &mut self.capacity,
            "contact_resistance" => &mut self.contact_resistance,
            "clip_resistance" => &mut self.clip_resistance,
            "cooling" => &mut self.cooling,
            "efficiency" => &mut self.efficiency,
            _ => return None,
        })
    }

    /// Both together.
    pub fn times(&self, other: &Self) -> Self {
        Self {
            bare_share: self.bare_share * other.bare_share,
            gap: self.gap * other.gap,
            conductivity: self.conductivity * other.conductivity,
            cell_resistance: self.cell_resistance * other.cell_resistance,
            capacity: self.capacity * other.capacity,
            contact_resistance: self.contact_resistance * other.contact_resistance,
            clip_resistance: self.clip_resistance * other.clip_resistance,
            cooling: self.cooling * other.cooling,
            efficiency: self.efficiency * other.efficiency,
        }
    }
}
