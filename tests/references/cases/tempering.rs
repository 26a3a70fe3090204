//! Tub, bottles and water.

use process_model::quantity::Celsius;
use process_model::tub::{Act, Bottle, Event, Tub};
use process_model::water::mixed_c;
use serde_json::Value;

use super::Computed;
use super::value::{Case, number, results, why};

/// Events as the files write them: name, instant, numbers.
pub(super) fn events(case: Case<'_>) -> Result<Vec<Event>, String> {
    let event = |event: &Value| -> Result<Event, String> {
        let at = |place: usize| event[place].as_f64().ok_or("an event without a number");
        let bottle = || event[2].as_u64().and_then(|bottle| usize::try_from(bottle).ok());
        let act = match event[0].as_str().unwrap_or_default() {
            "add" => Act::Add { litres: at(2)?, celsius: at(3)?, jump_k: 0.0 },
            "drain" => Act::Drain { litres: at(2)? },
            "settemp" => Act::Set { celsius: at(2)? },
            "out" => Act::Out { bottle: bottle().ok_or("no bottle")? },
            "in" => Act::In { bottle: bottle().ok_or("no bottle")? },
            other => return Err(format!("unknown event {other}")),
        };
        Ok(Event { at_s: at(1)?, act })
    };
    case.list("events")?.iter().map(event).collect()
}

pub(super) fn tub(case: Case<'_>, litres: f64) -> Result<Tub, String> {
    let (heats, taus, exponents) =
        (case.numbers("c_j_k")?, case.numbers("tau10_s")?, case.numbers("p")?);
    let bottles = heats.iter().zip(&taus).zip(&exponents);
    let bottles = bottles.map(|((heat_j_k, tau10_s), p)| Bottle {
        heat_j_k: *heat_j_k,
        tau10_s: *tau10_s,
        p: *p,
    });
    Ok(Tub {
        bottles: bottles.collect(),
        litres,
        heat_j_k_l: case.number("cw_j_k_l")?,
        loss_w_k: case.number("g_loss_w_k")?,
        room_c: case.number("room_c")?,
    })
}

pub(super) fn tub_run(case: Case<'_>) -> Computed {
    let tub = tub(case, case.number("tub_l")?)?;
    let temps =
        tub.run(&case.numbers("t0_c")?, &case.numbers("times_s")?, &events(case)?).map_err(why)?;
    Ok(results([("temps_c", temps.into_iter().collect())]))
}

pub(super) fn mix_water(case: Case<'_>) -> Computed {
    let (one, other) = (case.number("m1_kg")?, case.number("m2_kg")?);
    let mixed = mixed_c(one, case.number("t1_c")?, other, case.number("t2_c")?).map_err(why)?;
    Ok(results([("t_c", number(mixed))]))
}

pub(super) fn pour_into_tank(case: Case<'_>) -> Computed {
    let mixed = mixed_c(
        case.number("c_solution_j_k")?,
        case.number("t_solution_c")?,
        case.number("c_tank_j_k")?,
        case.number("t_tank_c")?,
    );
    Ok(results([("t_c", number(mixed.map_err(why)?))]))
}

pub(super) fn unit_temp(case: Case<'_>) -> Computed {
    let celsius = Celsius::from_fahrenheit(case.number("temp_f")?).map_err(why)?;
    Ok(results([("temp_c", number(celsius.get()))]))
}

pub(super) fn unit_volume(case: Case<'_>) -> Computed {
    let ml = process_model::mixing::ML_PER_US_FL_OZ * case.number("us_fl_oz")?;
    Ok(results([("ml", number(ml))]))
}

/// The linear network: what the tub is at an exponent of nought. Only an oracle, so it is here; by
/// the model's own integration in steps of a tenth of a second.
pub(super) fn linear_network(case: Case<'_>) -> Computed {
    let mut network = Network::of(case)?;
    let mut temps = Vec::new();
    let mut now = 0.0;
    let mut events: Vec<Value> = case.list("events")?.clone();
    let at = |event: &Value| event[1].as_f64().unwrap_or_default();
    events.sort_by(|one, other| at(one).total_cmp(&at(other)));
    for time in case.numbers("times_s")? {
        while let Some(event) =
            events.first().filter(|event| event[1].as_f64() < Some(time)).cloned()
        {
            let at = event[1].as_f64().unwrap_or_default();
            network.advance(at - now);
            now = at;
            network.act(&event)?;
            events.remove(0);
        }
        network.advance(time - now);
        now = time;
        temps.push(network.temps.clone());
    }
    Ok(results([("temps_c", temps.into_iter().collect())]))
}

struct Network {
    heat: Vec<f64>,
    to_room: Vec<f64>,
    links: Vec<(usize, usize, f64)>,
    room: f64,
    temps: Vec<f64>,
}

impl Network {
    fn of(case: Case<'_>) -> Result<Self, String> {
        let link = |link: &Value| {
            let node =
                |place: usize| link[place].as_u64().and_then(|node| usize::try_from(node).ok());
            Some((node(0)?, node(1)?, link[2].as_f64()?))
        };
        let links: Option<Vec<_>> = case.list("links")?.iter().map(link).collect();
        Ok(Self {
            heat: case.numbers("c_j_k")?,
            to_room: case.numbers("g_room_w_k")?,
            links: links.ok_or("a link without numbers")?,
            room: case.number("room_c")?,
            temps: case.numbers("t0_c")?,
        })
    }

    fn slope(&self, temps: &[f64]) -> Vec<f64> {
        let mut watts: Vec<f64> =
            temps.iter().zip(&self.to_room).map(|(temp, loss)| loss * (self.room - temp)).collect();
        for (one, other, link) in &self.links {
            let flow = link * (temps[*other] - temps[*one]);
            watts[*one] += flow;
            watts[*other] -= flow;
        }
        watts.iter().zip(&self.heat).map(|(watts, heat)| watts / heat).collect()
    }

    fn advance(&mut self, seconds: f64) {
        let steps = (seconds / 0.5).ceil().max(1.0);
        let h = seconds / steps;
        let mut done = 0.0;
        while done < steps && seconds > 0.0 {
            let along = |slope: &[f64], by: f64| -> Vec<f64> {
                self.temps.iter().zip(slope).map(|(temp, slope)| temp + by * slope).collect()
            };
            let first = self.slope(&self.temps);
            let second = self.slope(&along(&first, h / 2.0));
            let third = self.slope(&along(&second, h / 2.0));
            let fourth = self.slope(&along(&third, h));
            for (node, temp) in self.temps.iter_mut().enumerate() {
                *temp +=
                    h / 6.0 * (first[node] + 2.0 * second[node] + 2.0 * third[node] + fourth[node]);
            }
            done += 1.0;
        }
    }

    fn act(&mut self, event: &Value) -> Result<(), String> {
        let node =
            event[2].as_u64().and_then(|node| usize::try_from(node).ok()).ok_or("no node")?;
        let at = |place: usize| event[place].as_f64().ok_or("an event without a number");
        match event[0].as_str().unwrap_or_default() {
            "mixin" => {
                let (heat, temp) = (at(3)?, at(4)?);
                self.temps[node] =
                    (self.heat[node] * self.temps[node] + heat * temp) / (self.heat[node] + heat);
                self.heat[node] += heat;
            }
            "settemp" | "set" => self.temps[node] = at(3)?,
            "link" | "setlink" => self.links[node].2 = at(3)?,
            other => return Err(format!("unknown event {other}")),
        }
        Ok(())
    }
}
