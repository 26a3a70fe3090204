//! What the person has said of bottles, tub, tank and thermometer, and what was learned of them.

use leptos::prelude::*;
use process_model::advice::HandsInTub;
use process_model::sheet::Bath;
use session::evening::Evening;
use session::notebook::{Kind, Named, Value};
use session::vessels::Vessels;

use super::Store;
use crate::text;

impl Store {
    /// Bottles, tub, tank and thermometer.
    pub fn vessels(self) -> Vessels {
        let hands = if self.no_hands.get() { HandsInTub::No } else { HandsInTub::Yes };
        Vessels { hands, ..Vessels::of(&self.records.read()) }
    }

    /// How much the tank holds, in millilitres, if anybody has said so.
    pub fn tank_ml(self) -> Option<f64> {
        self.records_of(Kind::Vessel)
            .iter()
            .filter(|vessel| vessel.text("vessel") == "tank")
            .find_map(|tank| tank.number("volume_ml"))
    }

    /// Keeps the screen lit as long as what is drawn now is there.
    pub fn stay_lit(self) {
        self.ports.with_value(|ports| ports.screen.keep_lit());
        on_cleanup(move || {
            if !self.is_live() {
                self.ports.with_value(|ports| ports.screen.let_go());
            }
        });
    }

    /// Keeps what this evening has taught about the vessels, once the run begins.
    pub(super) fn keep_learned(self) {
        let Some(evening) = untrack(|| self.with_evening(Evening::clone)) else { return };
        // Two readings of the tub and of each bottle say something; fewer say nothing.
        if evening.noted.len() < 2 * (evening.baths.len() + 1) {
            return;
        }
        let Some((bottles, ln_loss, p)) = evening.tempering.learned() else { return };
        for (bath, guess) in evening.baths.iter().zip(bottles) {
            let fields =
                vec![("ln_tau10", rounded(guess.mean)), ("ln_tau10_sd", rounded(guess.sd))];
            self.change_vessel("bottle", Some(*bath), fields);
        }
        let fields = vec![
            ("ln_g", rounded(ln_loss.mean)),
            ("ln_g_sd", rounded(ln_loss.sd)),
            ("p", rounded(p.mean)),
            ("p_sd", rounded(p.sd)),
        ];
        self.change_vessel("tub", None, fields);
    }

    /// Changes a vessel; makes its record where there is none.
    pub fn change_vessel(
        self,
        vessel: &'static str,
        bath: Option<Bath>,
        mut fields: Vec<(&'static str, Value)>,
    ) {
        let name = bath.map_or("", Bath::file_name);
        let id = self.records.with_untracked(|records| {
            let is_it = |record: &&session::notebook::Record| {
                record.kind() == Kind::Vessel
                    && !record.is_deleted()
                    && record.text("vessel") == vessel
                    && record.text("bath") == name
            };
            records.iter().find(is_it).map(|record| record.id().to_owned())
        });
        if let Some(id) = id {
            return self.change_record(&id, fields);
        }
        fields.push(("vessel", vessel.into()));
        fields.push(("name", bath.map_or(vessel, text::bath).into()));
        if bath.is_some() {
            fields.push(("bath", name.into()));
        }
        self.add_record(Kind::Vessel, fields);
    }

    /// Forgets what was learned about the vessels; what they are stays.
    pub fn forget_learned(self) {
        let ids: Vec<String> = self.records.with_untracked(|records| {
            let vessels = records.iter().filter(|record| record.kind() == Kind::Vessel);
            vessels.map(|record| record.id().to_owned()).collect()
        });
        for id in ids {
            let learned = ["ln_tau10", "ln_tau10_sd", "ln_g", "ln_g_sd", "p", "p_sd"];
            self.change_record(&id, learned.map(|field| (field, Value::Null)).to_vec());
        }
    }

    /// The last thermometer's offset and how it was found, made anew or changed.
    pub fn change_thermometer(self, mut fields: Vec<(&'static str, Value)>) {
        let known = untrack(|| self.records_of(Kind::Thermometer));
        if let Some(record) = known.first() {
            return self.change_record(record.id(), fields);
        }
        fields.push(("name", "Thermometer".into()));
        self.add_record(Kind::Thermometer, fields);
    }
}

/// A learned number, to as many places as it deserves.
fn rounded(value: f64) -> Value {
    ((value * 10_000.0).round() / 10_000.0).into()
}
