//! Where the person is: the part of the address after the sign `#`.

/// A screen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Route {
    /// The front page.
    #[default]
    Bench,
    /// The person's own habits.
    Yours,
    /// What to lay out, one group a screen.
    LayOut(usize),
    /// Values before the start.
    LastCheck,
    /// The run, the wash and the question about the stabiliser.
    Run,
    /// After the last bath.
    Hang,
    /// Finished runs.
    Rolls,
    /// One finished run.
    Roll(String),
}

impl Route {
    /// The screen of an address; the Bench if it names none.
    pub fn parse(fragment: &str) -> Self {
        let mut parts = fragment.trim_start_matches('/').splitn(2, '/');
        let rest = |part: Option<&str>| part.unwrap_or_default().to_owned();
        match (parts.next().unwrap_or_default(), parts.next()) {
            ("yours", _) => Self::Yours,
            ("lay-out", group) => Self::LayOut(rest(group).parse().unwrap_or(0)),
            ("last-check", _) => Self::LastCheck,
            ("run", _) => Self::Run,
            ("hang", _) => Self::Hang,
            ("rolls", Some(id)) if !id.is_empty() => Self::Roll(id.to_owned()),
            ("rolls", _) => Self::Rolls,
            _ => Self::Bench,
        }
    }

    /// The address of the screen.
    pub fn fragment(&self) -> String {
        match self {
            Self::Bench => "/bench".to_owned(),
            Self::Yours => "/yours".to_owned(),
            Self::LayOut(0) => "/lay-out".to_owned(),
            Self::LayOut(group) => format!("/lay-out/{group}"),
            Self::LastCheck => "/last-check".to_owned(),
            Self::Run => "/run".to_owned(),
            Self::Hang => "/hang".to_owned(),
            Self::Rolls => "/rolls".to_owned(),
            Self::Roll(id) => format!("/rolls/{id}"),
        }
    }

    /// Whether the screen belongs to a run and fills the view.
    pub fn is_session(&self) -> bool {
        matches!(self, Self::LastCheck | Self::Run | Self::Hang)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_has_an_address_that_leads_back_to_it() {
        for route in [
            Route::Bench,
            Route::Yours,
            Route::LayOut(0),
            Route::LayOut(3),
            Route::LastCheck,
            Route::Run,
            Route::Hang,
            Route::Rolls,
            Route::Roll("0a1b".to_owned()),
        ] {
            assert_eq!(Route::parse(&route.fragment()), route);
        }
    }

    #[test]
    fn an_address_that_leads_nowhere_leads_to_the_bench() {
        for fragment in ["", "/", "/nowhere", "/rolls-of-others", "%"] {
            assert_eq!(Route::parse(fragment), Route::Bench);
        }
        assert_eq!(Route::parse("/lay-out/x"), Route::LayOut(0));
    }
}
