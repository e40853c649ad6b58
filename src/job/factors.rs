//! Factors on the uncertain inputs: how a draw, or a bench, differs from the job as written.

/// The factors, each by its key under `[spread]`.
macro_rules! factors {
    ($($(#[$doc:meta])* $key:ident),+ $(,)?) => {
        /// Factors on the uncertain inputs; all one for the job as written.
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct Factors {
            $($(#[$doc])* pub $key: f64,)+
        }

        impl Default for Factors {
            fn default() -> Self {
                Self { $($key: 1.0,)+ }
            }
        }

        impl Factors {
            /// The factor that a key of `[spread]` names.
            pub fn named(&mut self, key: &str) -> Option<&mut f64> {
                match key {
                    $(stringify!($key) => Some(&mut self.$key),)+
                    _ => None,
                }
            }

            /// Both together.
            pub fn times(&self, other: &Self) -> Self {
                Self { $($key: self.$key * other.$key,)+ }
            }
        }
    };
}

factors! {
    /// Bare share.
    bare_share,
    /// Gap.
    gap,
    /// Conductivity.
    conductivity,
    /// Cell resistance, both its parts.
    cell_resistance,
    /// Capacity.
    capacity,
    /// Contact resistance.
    contact_resistance,
    /// Clip resistance.
    clip_resistance,
    /// Cooling of the cells.
    cooling,
    /// Current efficiency.
    efficiency,
    /// What the film at the sheet carries.
    face_transfer,
    /// What the films at the pan carry.
    pan_transfer,
    /// Loads at which silver turns loose.
    loose_load,
    /// Length of the drawing's edges.
    edge_length,
    /// Electrons with which copper leaves in brine.
    brine_valence,
}
