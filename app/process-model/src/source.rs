//! Where a number comes from, and how far it may be trusted.

/// A publication or a kind of knowledge that a number was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Source {
    /// Processing manual Z-131 (process C-41), section 4, table 4-1.
    ManualZ131,
    /// US Army subcourse SS0514 (colour film processing), pages 2-13 to 2-15 and 4-3.
    SubcourseSs0514,
    /// US Army subcourse SS0520 5 (continuous processing).
    SubcourseSs0520,
    /// A personal wiki on analogue processing: secondary.
    WikiOnProcessing,
    /// Two user reports of a home two-bath powder kit (2013 and 2018): secondary.
    TwoKitReports,
    /// A cine club newsletter on washing between bleach and fix: secondary.
    CineClubNewsletter,
    /// US Navy training manual NAVEDTRA 14209 (Photography Basic), chapter 10.
    Navedtra14209,
    /// US Army subcourse SS0509 8 (black-and-white processing).
    SubcourseSs0509,
    /// US Army/USAF TM 1-1500-335-23, table 6-17.
    Tm1500,
    /// US Army MD0954 (X-ray film processing).
    Md0954,
    /// An encyclopaedia's article on process E-6: secondary.
    EncyclopaediaE6,
    /// Theory guide TG2044-1 (process E-6).
    TheoryGuideTg2044,
    /// A student wash-method card: secondary.
    WashCard,
    /// A person's own sheet.
    OwnSheet,
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
            Self::SubcourseSs0514 => "US Army SS0514",
            Self::SubcourseSs0520 => "US Army SS0520 5",
            Self::WikiOnProcessing => "a personal wiki, secondary",
            Self::TwoKitReports => "two kit reports, 2013 and 2018, secondary",
            Self::CineClubNewsletter => "a cine club newsletter, secondary",
            Self::Navedtra14209 => "NAVEDTRA 14209, chapter 10",
            Self::SubcourseSs0509 => "US Army SS0509 8",
            Self::Tm1500 => "TM 1-1500-335-23, table 6-17",
            Self::Md0954 => "US Army MD0954",
            Self::EncyclopaediaE6 => "an encyclopaedia on E-6, secondary",
            Self::TheoryGuideTg2044 => "TG2044-1",
            Self::WashCard => "a wash-method card, secondary",
            Self::OwnSheet => "your sheet",
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
