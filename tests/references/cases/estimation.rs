//! Estimates and advice.

use process_model::advice::{self, Wish};
use process_model::estimate::{BottleGuess, Evidence, Guess, Looking, Reading};
use process_model::tub::Act;
use serde_json::Value;

use super::Computed;
use super::tempering::{events, tub};
use super::value::{Case, number, results, why};

fn evidence(case: Case<'_>) -> Result<Evidence, String> {
    let heats = case.numbers("c_j_k")?;
    let (means, sds) = (case.numbers("prior_mean")?, case.numbers("prior_sd")?);
    let guess = |place: usize| -> Result<Guess, String> {
        let (mean, sd) = (means.get(place), sds.get(place));
        mean.zip(sd)
            .map(|(mean, sd)| Guess { mean: *mean, sd: *sd })
            .ok_or("too few guesses".to_owned())
    };
    let count = heats.len();
    let mut bottles = Vec::new();
    for (index, heat_j_k) in heats.into_iter().enumerate() {
        let (ln_tau10, start_c) = (guess(2 * index)?, guess(2 * index + 1)?);
        bottles.push(BottleGuess { heat_j_k, ln_tau10, start_c });
    }
    let events = events(case)?;
    let adds = events.iter().filter(|event| matches!(event.act, Act::Add { .. })).count();
    let jumps = (0..adds).map(|add| guess(2 * count + 3 + add)).collect::<Result<_, _>>()?;
    let reading = |row: Vec<f64>| -> Result<Reading, String> {
        let [at_s, node, celsius, sd_k] = row[..] else {
            return Err("a reading of four numbers".into());
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a small whole number"
        )]
        let node = node as usize;
        Ok(Reading { at_s, node, celsius, sd_k })
    };
    Ok(Evidence {
        bottles,
        litres: case.number("tub_l")?,
        heat_j_k_l: case.number("cw_j_k_l")?,
        room_c: case.number("room_c")?,
        ln_loss: guess(2 * count)?,
        tub_c: guess(2 * count + 1)?,
        p: guess(2 * count + 2)?,
        jumps,
        readings: case.rows("readings")?.into_iter().map(reading).collect::<Result<_, _>>()?,
        events,
    })
}

pub(super) fn map_fit(case: Case<'_>) -> Computed {
    let estimate = evidence(case)?.fit().map_err(why)?;
    let now = case.number("now_s")?;
    let at = |seconds: f64| -> Result<Value, String> {
        Ok(estimate.temperatures(&[now + seconds]).map_err(why)?.remove(0).into())
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number"
    )]
    let draws = case.number("draws")? as u32;
    let looking = Looking {
        now_s: now,
        horizon_s: case.number("horizon_s")?,
        grid_s: case.number("grid_s")?,
        draws,
    };
    let arrival = estimate
        .arrival(case.whole("target_node")?, case.number("target_c")?, looking)
        .map_err(why)?;
    let sds: Vec<f64> = (0..estimate.values.len()).map(|place| estimate.sd(place)).collect();
    Ok(results([
        ("theta", estimate.values.clone().into()),
        ("sd", sds.into()),
        ("temps_now_c", at(0.0)?),
        ("temps_300_c", at(300.0)?),
        ("temps_900_c", at(900.0)?),
        ("arrival_point_s", number(arrival.likely_s)),
        ("arrival_lo_s", number(arrival.early_s)),
        ("arrival_hi_s", number(arrival.late_s)),
        ("p_never", number(arrival.never)),
    ]))
}

pub(super) fn reading_flags(case: Case<'_>) -> Computed {
    let estimate = evidence(case)?.fit().map_err(why)?;
    let off = estimate.residuals();
    let worst = (0..off.len()).max_by(|one, other| off[*one].abs().total_cmp(&off[*other].abs()));
    Ok(results([
        ("flagged", estimate.flags(case.number("limit")?).into()),
        ("worst_index", worst.into()),
        ("z", off.into()),
    ]))
}

pub(super) fn advise_add_water(case: Case<'_>) -> Computed {
    let tub = tub(case, case.number("tub_l")?)?;
    let several = case.0["bottle_c"].is_array();
    let mut warm = if several { case.numbers("bottle_c")? } else { vec![case.number("bottle_c")?] };
    warm.push(case.number("tub_c")?);
    let wish = Wish {
        bottle: case.whole("node")?,
        target_c: case.number("target_c")?,
        in_s: case.number("in_s")?,
        tap_c: case.number("tap_c")?,
        most_l: case.number("tub_max_l")?,
        most_c: case.number("tub_limit_c")?,
    };
    let water = advice::water(&tub, &warm, wish).map_err(why)?;
    Ok(results([
        ("add_l", number(water.add_l)),
        ("drain_l", number(water.drain_l)),
        ("bath_c", number(water.tub_c)),
        ("reached_c", number(water.reached_c)),
        ("feasible", water.is_feasible.into()),
    ]))
}

pub(super) fn leave_temperature(case: Case<'_>) -> Computed {
    let tub = tub(case, case.number("tub_l")?)?;
    let others = case.list("other_c")?.iter().map(|value| value.as_f64().unwrap_or_default());
    let mut warm: Vec<f64> = others.collect();
    warm.push(case.number("tub_c")?);
    let (bottle, target) = (case.whole("node")?, case.number("target_c")?);
    let start = advice::leave_c(&tub, &warm, bottle, target, case.number("in_s")?).map_err(why)?;
    Ok(results([("start_c", number(start))]))
}

/// The linear closed form, which only bounds the model: the tub that brings a bottle to its target.
pub(super) fn tub_needed_linear(case: Case<'_>) -> Computed {
    let (bottle, tub) = (case.number("c_bottle_j_k")?, case.number("c_bath_j_k")?);
    let (link, loss) = (case.number("g_link_w_k")?, case.number("g_loss_w_k")?);
    let (room, start, time) =
        (case.number("room_c")?, case.number("bottle_c")?, case.number("in_s")?);
    // The two rates of bottle and tub together, above the room.
    let (a, d) = (-link / bottle, -(link + loss) / tub);
    let (b, c) = (link / bottle, link / tub);
    let half = f64::midpoint(a, d);
    let root = (half * half - (a * d - b * c)).sqrt();
    let (one, other) = (half + root, half - root);
    let [one_s, other_s] = [one, other].map(|rate| libm::exp(rate * time));
    let stays = (one_s * (a - other) - other_s * (a - one)) / (one - other);
    let takes = b * (one_s - other_s) / (one - other);
    let needed = room + (case.number("target_c")? - room - stays * (start - room)) / takes;
    Ok(results([("bath_c", number(needed))]))
}

pub(super) fn next_session_prior(case: Case<'_>) -> Computed {
    let guess = Guess { mean: case.number("post_mean")?, sd: case.number("post_sd")? };
    let next = guess.next(case.number("drift_sd")?);
    Ok(results([("mean", number(next.mean)), ("sd", number(next.sd))]))
}
