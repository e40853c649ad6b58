//! The limits that there are: how each bites, how grave it is, its word and unit for programs.
//! What is held against them stands in `held.rs`.

use super::level::Level;

/// What a run is held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Limit {
    /// The source must push at all, V.
    NoCurrent,
    /// Charge at hand, as a share of the available well.
    Empty,
    /// Time in which the piece must come to depth, s.
    Time,
    /// Metal that must stay, as a depth, m.
    Floor,
    /// A cell's hot spot, K.
    Hot,
    /// The bath's boiling point, K.
    Boil,
    /// The bath's freezing point, K.
    Freeze,
    /// A cell's voltage may not fall under zero, V.
    Reversed,
    /// Rise of the leads over the air at which they no longer do, K.
    Leads,
    /// Current that an adapter stands at all, A.
    Adapter,
    /// Current that a lithium cell stands, A.
    CellCurrent,
    /// Current density that the user allows, A/m2.
    OwnDensity,
    /// A cell's surface that the user allows, K.
    OwnTouch,
    /// A cell's hot spot that is well within its limit, K.
    Warm,
    /// Current that an adapter gives without strain, A.
    AdapterLoad,
    /// Load of the pan that it takes well.
    PanLoad,
    /// Concentration at the sheet's face well under the salt film's, mol/m3.
    Film,
    /// The same in a bath where the salt falls off, mol/m3.
    Sludge,
    /// Charge through each bare area that the resist bears, C/m2.
    Resist,
    /// Depth in a minute near the end, m.
    Pace,
    /// A cell's surface that one touches, K.
    Touch,
    /// Bath temperature that the resist bears, K.
    ResistWarmth,
    /// Rise of the leads over the air at which it is said, K.
    WarmLeads,
    /// Load of the pan over which silver comes down loose.
    Loose,
    /// Load of the pan over which gas comes off besides.
    Gas,
}

/// What breaking a limit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bite {
    /// The job is not done so.
    Firm,
    /// It is done, driven hard.
    Strained,
    /// It is said.
    Said,
}

impl Limit {
    /// All, as they are counted.
    pub const ALL: [Self; 25] = [
        Self::NoCurrent,
        Self::Empty,
        Self::Time,
        Self::Floor,
        Self::Hot,
        Self::Boil,
        Self::Freeze,
        Self::Reversed,
        Self::Leads,
        Self::Adapter,
        Self::CellCurrent,
        Self::OwnDensity,
        Self::OwnTouch,
        Self::Warm,
        Self::AdapterLoad,
        Self::PanLoad,
        Self::Film,
        Self::Sludge,
        Self::Resist,
        Self::Pace,
        Self::Touch,
        Self::ResistWarmth,
        Self::WarmLeads,
        Self::Loose,
        Self::Gas,
    ];

    /// What breaking it means.
    pub fn bite(self) -> Bite {
        match self {
            Self::NoCurrent
            | Self::Empty
            | Self::Time
            | Self::Floor
            | Self::Hot
            | Self::Boil
            | Self::Freeze
            | Self::Reversed
            | Self::Leads
            | Self::Adapter
            | Self::CellCurrent
            | Self::OwnDensity
            | Self::OwnTouch => Bite::Firm,
            Self::Warm
            | Self::AdapterLoad
            | Self::PanLoad
            | Self::Film
            | Self::Sludge
            | Self::Resist
            | Self::Pace
            | Self::Touch
            | Self::ResistWarmth => Bite::Strained,
            Self::WarmLeads | Self::Loose | Self::Gas => Bite::Said,
        }
    }

    /// Whether the job is not done where it is broken.
    pub fn firm(self) -> bool {
        self.bite() == Bite::Firm
    }

    /// How grave it is when it is broken; none where the end of the run tells of it, or the
    /// verdict does.
    pub fn level(self) -> Option<Level> {
        match self {
            Self::Leads
            | Self::Reversed
            | Self::Adapter
            | Self::CellCurrent
            | Self::OwnDensity
            | Self::OwnTouch => Some(Level::Stop),
            Self::Film
            | Self::Sludge
            | Self::Resist
            | Self::ResistWarmth
            | Self::WarmLeads
            | Self::AdapterLoad
            | Self::Gas
            | Self::Touch => Some(Level::Caution),
            Self::Loose | Self::Pace => Some(Level::Note),
            Self::NoCurrent
            | Self::Empty
            | Self::Time
            | Self::Floor
            | Self::Hot
            | Self::Boil
            | Self::Freeze
            | Self::Warm
            | Self::PanLoad => None,
        }
    }

    /// Its word for programs.
    pub fn code(self) -> &'static str {
        match self {
            Self::NoCurrent => "no_current",
            Self::Empty => "empty",
            Self::Time => "time",
            Self::Floor => "floor",
            Self::Hot => "hot",
            Self::Boil => "boil",
            Self::Freeze => "freeze",
            Self::Reversed => "reversed",
            Self::Leads => "leads",
            Self::Adapter => "adapter",
            Self::CellCurrent => "cell_current",
            Self::OwnDensity => "own_current_density",
            Self::OwnTouch => "own_touch",
            Self::Warm => "warm",
            Self::AdapterLoad => "adapter_load",
            Self::PanLoad => "pan_load",
            Self::Film | Self::Sludge => "film",
            Self::Resist => "resist",
            Self::Pace => "pace",
            Self::Touch => "touch",
            Self::ResistWarmth => "resist_warmth",
            Self::WarmLeads => "warm_leads",
            Self::Loose => "loose_silver",
            Self::Gas => "gas",
        }
    }

    /// Unit of value and limit; none for a share.
    pub fn unit(self) -> &'static str {
        match self {
            Self::NoCurrent | Self::Reversed => "V",
            Self::Time => "s",
            Self::Floor | Self::Pace => "m",
            Self::Hot
            | Self::Boil
            | Self::Freeze
            | Self::Leads
            | Self::WarmLeads
            | Self::OwnTouch
            | Self::Touch
            | Self::Warm
            | Self::ResistWarmth => "K",
            Self::Adapter | Self::AdapterLoad | Self::CellCurrent => "A",
            Self::OwnDensity => "A/m2",
            Self::Film | Self::Sludge => "mol/m3",
            Self::Resist => "C/m2",
            Self::Empty | Self::PanLoad | Self::Loose | Self::Gas => "",
        }
    }

    /// Whether what is left of it counts as in hand.
    pub(super) fn in_hand(self) -> bool {
        match self.bite() {
            Bite::Firm => !matches!(self, Self::NoCurrent | Self::Reversed | Self::Freeze),
            Bite::Strained | Bite::Said => false,
        }
    }

    /// The graver limit on the same value, which speaks for this one where both are broken.
    pub(super) fn graver(self) -> Option<Self> {
        match self {
            Self::WarmLeads => Some(Self::Leads),
            Self::Loose => Some(Self::Gas),
            Self::Warm => Some(Self::Hot),
            Self::AdapterLoad => Some(Self::Adapter),
            Self::Touch => Some(Self::OwnTouch),
            _ => None,
        }
    }
}
