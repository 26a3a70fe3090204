//! Where the person is: the part of the address after the sign `#`.

/// A screen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Route {
    /// The front page.
    #[default]
    Bench,
    /// Habits, look and sound, and the notebook's file.
    Settings,
    /// The whole notebook, to be printed.
    Paper,
    /// Practice with water, before it begins.
    Practise,
    /// What to lay out, one group a screen.
    LayOut(usize),
    /// Bottles and tub are brought to temperature.
    Tempering,
    /// Before the light goes out.
    ToTheDark,
    /// The light is out: the screen is black.
    Dark,
    /// Bottles, tub, tank and thermometer.
    Vessels,
    /// Values before the start.
    LastCheck,
    /// The run, the wash and the question about the stabiliser.
    Run,
    /// After the last bath.
    Hang,
    /// What is written down after a run, by the run's id.
    WriteUp(String),
    /// Something to read: which part of the primer, and the address it was come from.
    Primer(String, String),
    /// The same as last time, from outside of the page.
    Same,
    /// Rolls, waiting and done.
    Rolls,
    /// Rolls that were put aside.
    PutAside,
    /// One roll, or a run without one.
    Roll(String),
    /// The fields of a roll.
    RollEdit(String),
    /// Working solutions.
    Shelf,
    /// One solution.
    Solution(String),
    /// What is written on its bottle.
    Label(String),
    /// Which solution is mixed.
    Mix,
    /// One part of a solution that is being mixed: its id, and which part.
    Mixing(String, usize),
    /// A clip of film in a solution.
    Clip(String),
    /// What is seen on a roll, and what it may come from.
    RollFaults(String),
    /// A roll beside another; empty: which is to be chosen.
    Compare(String, String),
    /// What rolls were given, beside how they came out.
    Learned,
    /// Questions across rolls.
    Trials,
    /// One of them.
    Trial(String),
    /// Process sheets.
    Sheets,
    /// One sheet, by its key or id.
    Sheet(String),
    /// The fields of a person's own sheet.
    SheetEdit(String),
}

impl Route {
    /// What a page is about that stands in a list: its id, or nothing.
    pub fn subject(&self) -> &str {
        if let Self::Roll(id)
        | Self::RollEdit(id)
        | Self::Solution(id)
        | Self::Trial(id)
        | Self::Sheet(id)
        | Self::SheetEdit(id) = self
        {
            id
        } else {
            ""
        }
    }

    /// The screen of an address; the Bench if it names none.
    pub fn parse(fragment: &str) -> Self {
        let mut parts = fragment.trim_start_matches('/').split('/');
        let first = parts.next().unwrap_or_default();
        let second = parts.next().filter(|part| !part.is_empty()).map(str::to_owned);
        let third = parts.next().unwrap_or_default();
        let edits = third == "edit";
        match (first, second) {
            ("primer", Some(part)) => {
                let from = fragment.trim_start_matches('/').get("primer//".len() + part.len()..);
                Self::Primer(part, from.unwrap_or_default().to_owned())
            }
            ("same", _) => Self::Same,
            ("settings", _) => Self::Settings,
            ("paper", _) => Self::Paper,
            ("practise", _) => Self::Practise,
            ("lay-out", group) => {
                Self::LayOut(group.and_then(|group| group.parse().ok()).unwrap_or(0))
            }
            ("tempering", _) => Self::Tempering,
            ("to-the-dark", _) => Self::ToTheDark,
            ("dark", _) => Self::Dark,
            ("vessels", _) => Self::Vessels,
            ("last-check", _) => Self::LastCheck,
            ("run", _) => Self::Run,
            ("hang", _) => Self::Hang,
            ("write-up", Some(id)) => Self::WriteUp(id),
            ("rolls", Some(id)) if edits => Self::RollEdit(id),
            ("rolls", Some(id)) if third == "faults" => Self::RollFaults(id),
            ("rolls", Some(id)) if third == "compare" => {
                Self::Compare(id, parts.next().unwrap_or_default().to_owned())
            }
            ("rolls", Some(id)) => Self::Roll(id),
            ("put-aside", _) => Self::PutAside,
            ("rolls", None) => Self::Rolls,
            ("shelf", Some(id)) if third == "label" => Self::Label(id),
            ("shelf", Some(id)) if third == "clip" => Self::Clip(id),
            ("shelf", Some(id)) => Self::Solution(id),
            ("shelf", None) => Self::Shelf,
            ("mix", Some(id)) => Self::Mixing(id, third.parse().unwrap_or(0)),
            ("mix", None) => Self::Mix,
            ("learned", _) => Self::Learned,
            ("trials", Some(id)) => Self::Trial(id),
            ("trials", None) => Self::Trials,
            ("sheets", Some(key)) if edits => Self::SheetEdit(key),
            ("sheets", Some(key)) => Self::Sheet(key),
            ("sheets", None) => Self::Sheets,
            _ => Self::Bench,
        }
    }

    /// The address of the screen.
    pub fn fragment(&self) -> String {
        match self {
            Self::Bench => "/bench".to_owned(),
            Self::Settings => "/settings".to_owned(),
            Self::Paper => "/paper".to_owned(),
            Self::Practise => "/practise".to_owned(),
            Self::LayOut(0) => "/lay-out".to_owned(),
            Self::LayOut(group) => format!("/lay-out/{group}"),
            Self::Tempering => "/tempering".to_owned(),
            Self::ToTheDark => "/to-the-dark".to_owned(),
            Self::Dark => "/dark".to_owned(),
            Self::Vessels => "/vessels".to_owned(),
            Self::LastCheck => "/last-check".to_owned(),
            Self::Run => "/run".to_owned(),
            Self::Hang => "/hang".to_owned(),
            Self::WriteUp(id) => format!("/write-up/{id}"),
            Self::Primer(part, from) => format!("/primer/{part}/{from}"),
            Self::Same => "/same".to_owned(),
            Self::Rolls => "/rolls".to_owned(),
            Self::Roll(id) => format!("/rolls/{id}"),
            Self::RollEdit(id) => format!("/rolls/{id}/edit"),
            Self::Shelf => "/shelf".to_owned(),
            Self::Solution(id) => format!("/shelf/{id}"),
            Self::Label(id) => format!("/shelf/{id}/label"),
            Self::Clip(id) => format!("/shelf/{id}/clip"),
            Self::Mix => "/mix".to_owned(),
            Self::Mixing(id, nth) => format!("/mix/{id}/{nth}"),
            Self::RollFaults(id) => format!("/rolls/{id}/faults"),
            Self::Compare(id, other) => format!("/rolls/{id}/compare/{other}"),
            Self::PutAside => "/put-aside".to_owned(),
            Self::Learned => "/learned".to_owned(),
            Self::Trials => "/trials".to_owned(),
            Self::Trial(id) => format!("/trials/{id}"),
            Self::Sheets => "/sheets".to_owned(),
            Self::Sheet(key) => format!("/sheets/{key}"),
            Self::SheetEdit(key) => format!("/sheets/{key}/edit"),
        }
    }

    /// Whether the screen comes before the first pour.
    pub fn is_before_start(&self) -> bool {
        matches!(self, Self::Tempering | Self::ToTheDark | Self::Dark | Self::LastCheck)
    }

    /// Whether the screen belongs to a run and fills the view.
    pub fn is_session(&self) -> bool {
        matches!(
            self,
            Self::Tempering
                | Self::ToTheDark
                | Self::Dark
                | Self::LastCheck
                | Self::Run
                | Self::Hang
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_has_an_address_that_leads_back_to_it() {
        let id = || "0a1b".to_owned();
        for route in [
            Route::Bench,
            Route::Settings,
            Route::Paper,
            Route::Practise,
            Route::LayOut(0),
            Route::LayOut(3),
            Route::Tempering,
            Route::ToTheDark,
            Route::Dark,
            Route::Vessels,
            Route::LastCheck,
            Route::Run,
            Route::Hang,
            Route::WriteUp(id()),
            Route::Primer("words".to_owned(), "lay-out/3".to_owned()),
            Route::Primer("job".to_owned(), String::new()),
            Route::Same,
            Route::Rolls,
            Route::Roll(id()),
            Route::RollEdit(id()),
            Route::Shelf,
            Route::Solution(id()),
            Route::Label(id()),
            Route::Mix,
            Route::Mixing(id(), 3),
            Route::Clip(id()),
            Route::RollFaults(id()),
            Route::Compare(id(), id()),
            Route::Compare(id(), String::new()),
            Route::PutAside,
            Route::Learned,
            Route::Trials,
            Route::Trial(id()),
            Route::Sheets,
            Route::Sheet(id()),
            Route::SheetEdit(id()),
        ] {
            assert_eq!(Route::parse(&route.fragment()), route);
        }
    }

    #[test]
    fn an_address_that_leads_nowhere_leads_to_the_bench() {
        for fragment in ["", "/", "/nowhere", "/rolls-of-others", "%", "bench", "/write-up"] {
            assert_eq!(Route::parse(fragment), Route::Bench);
        }
        assert_eq!(Route::parse("/lay-out/x"), Route::LayOut(0));
    }
}
