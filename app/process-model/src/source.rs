//! Where a number comes from, and how far it may be trusted.

/// A publication or a kind of knowledge that a number was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Source {
    /// Processing manual Z-131 (process C-41), section 4, table 4-1.
    ManualZ131,
    /// US Army subcourse SS0514 (colour film processing), pages 2-13 to 2-15.
    SubcourseSs0514,
    /// US Army subcourse SS0520 5 (continuous processing).
    SubcourseSs0520,
    /// A personal wiki on analogue processing: secondary.
    WikiOnProcessing,
    /// Two user reports of a home two-bath powder kit (2013 and 2018): secondary.
    TwoKitReports,
    /// A cine club newsletter on washing between bleach and fix: secondary.
    CineClubNewsletter,
    /// ISO 1007 (35 mm film); only its scope was seen.
    Iso1007,
    /// ISO 732 (roll film); only its scope was seen.
    Iso732,
    /// A fact of the trade for which no publication was found.
    CommonPractice,
    /// Remembered, and not looked up.
    FromMemory,
}

impl Source {
    /// How the source is cited to a reader.
    pub const fn citation(self) -> &'static str {
        match self {
            Self::ManualZ131 => "Z-131, table 4-1",
            Self::SubcourseSs0514 => "US Army SS0514, 2-13 to 2-15",
            Self::SubcourseSs0520 => "US Army SS0520 5",
            Self::WikiOnProcessing => "a personal wiki, secondary",
            Self::TwoKitReports => "two kit reports, 2013 and 2018, secondary",
            Self::CineClubNewsletter => "a cine club newsletter, secondary",
            Self::Iso1007 => "ISO 1007",
            Self::Iso732 => "ISO 732",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory",
        }
    }
}

/// How far the values of one row of a sheet may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// To be confirmed against the kit's leaflet before it drives a prompt.
    Low,
    /// Agrees with what is usual.
    Medium,
    /// Seen in print or agreed by all.
    High,
}
