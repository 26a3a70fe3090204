//! Textbook correlations. They justify the constants that are shipped and are not shipped themselves.

use serde_json::Value;

use super::Computed;
use super::value::{Case, number, results};

/// Polynomials in (T − 30 °C) / 25 °C, ascending, fitted to IAPWS-95 and dry air between 5 and 60 °C.
struct Fit {
    coefficients: &'static [f64],
    is_logarithm: bool,
}

impl Fit {
    const fn plain(coefficients: &'static [f64]) -> Self {
        Self { coefficients, is_logarithm: false }
    }

    const fn logarithm(coefficients: &'static [f64]) -> Self {
        Self { coefficients, is_logarithm: true }
    }

    fn at(&self, celsius: f64) -> f64 {
        let x = (celsius - 30.0) / 25.0;
        let value =
            self.coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient);
        if self.is_logarithm { libm::exp(value) } else { value }
    }
}

const DENSITY: Fit =
    Fit::plain(&[995.650_011, -7.559_198_83, -2.725_840_94, 0.420_522_315, -0.090_883_314_7]);
const HEAT: Fit = Fit::plain(&[
    4_179.828_66,
    -4.910_590_46,
    11.418_607_4,
    -5.353_801_54,
    2.736_887_92,
    -0.752_494_493,
]);
const VISCOSITY: Fit = Fit::logarithm(&[
    -7.134_367_86,
    -0.532_270_834,
    0.087_352_964_9,
    -0.018_283_469_6,
    0.005_039_508_38,
    -0.001_136_882_49,
]);
const CONDUCTIVITY: Fit =
    Fit::plain(&[0.614_437_21, 0.037_952_294_9, -0.007_465_750_31, 0.001_081_547_75]);
const EXPANSION: Fit = Fit::plain(&[
    3.033_575_35e-4,
    2.208_687_61e-4,
    -4.410_072_83e-5,
    1.507_930_36e-5,
    -5.599_192_94e-6,
    1.592_183_74e-6,
]);
const VAPOUR_PRESSURE: Fit = Fit::logarithm(&[
    8.353_961_25,
    1.435_092_33,
    -0.134_560_351,
    0.011_776_097_4,
    -9.862_102_19e-4,
    8.924_024_28e-5,
    -8.420_352_38e-6,
]);
const LATENT_HEAT: Fit = Fit::plain(&[2_429_808.39, -59_396.859_4, -373.053_853, -200.031_355]);
const AIR_DENSITY: Fit = Fit::plain(&[1.164_774_94, -0.096_778_487_7, 0.007_845_247_28]);
const AIR_VISCOSITY: Fit = Fit::plain(&[1.868_874_58e-5, 1.199_808_75e-6, -2.067_424_37e-8]);
const AIR_CONDUCTIVITY: Fit = Fit::plain(&[0.026_617_963_3, 0.001_850_963_59, -2.459_282_82e-5]);
const AIR_HEAT: Fit = Fit::plain(&[1_006.491_96, 0.972_423_687, 0.251_897_794]);

const GRAVITY_M_S2: f64 = 9.806_65;
const PRESSURE_PA: f64 = 101_325.0;
const ZERO_C_K: f64 = 273.15;
const RADIATION_W_M2_K4: f64 = 5.670_374_419e-8;

pub(super) fn water_properties(case: Case<'_>) -> Computed {
    let celsius = case.number("temp_c")?;
    let of = |fit: &Fit| -> Value { number(fit.at(celsius)) };
    Ok(results([
        ("rho", of(&DENSITY)),
        ("cp", of(&HEAT)),
        ("mu", of(&VISCOSITY)),
        ("k", of(&CONDUCTIVITY)),
        ("beta", of(&EXPANSION)),
        ("psat", of(&VAPOUR_PRESSURE)),
        ("hfg", of(&LATENT_HEAT)),
    ]))
}

fn cube(value: f64) -> f64 {
    value * value * value
}

/// Natural convection at a vertical wall: Churchill and Chu 1975.
fn upright(rayleigh: f64, prandtl: f64) -> f64 {
    let fluid = libm::pow(1.0 + libm::pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.825 + 0.387 * libm::pow(rayleigh, 1.0 / 6.0) / fluid;
    root * root
}

pub(super) fn nusselt(case: Case<'_>) -> Computed {
    Ok(results([("nu", number(upright(case.number("rayleigh")?, case.number("prandtl")?)))]))
}

/// A fluid at one temperature.
struct Fluid {
    density: f64,
    heat: f64,
    viscosity: f64,
    conductivity: f64,
    expansion: f64,
}

impl Fluid {
    fn water(celsius: f64) -> Self {
        Self {
            density: DENSITY.at(celsius),
            heat: HEAT.at(celsius),
            viscosity: VISCOSITY.at(celsius),
            conductivity: CONDUCTIVITY.at(celsius),
            expansion: EXPANSION.at(celsius),
        }
    }

    fn air(celsius: f64) -> Self {
        Self {
            density: AIR_DENSITY.at(celsius),
            heat: AIR_HEAT.at(celsius),
            viscosity: AIR_VISCOSITY.at(celsius),
            conductivity: AIR_CONDUCTIVITY.at(celsius),
            expansion: 1.0 / (celsius + ZERO_C_K),
        }
    }

    fn prandtl(&self) -> f64 {
        self.viscosity * self.heat / self.conductivity
    }

    fn rayleigh(&self, difference_k: f64, length_m: f64) -> f64 {
        let diffusivity = self.conductivity / (self.density * self.heat);
        let kinematic = self.viscosity / self.density;
        GRAVITY_M_S2 * self.expansion * difference_k.abs() * cube(length_m)
            / (kinematic * diffusivity)
    }

    /// Film coefficient at an upright wall, with a stream along it where there is one.
    fn film(&self, difference_k: f64, height_m: f64, stream_m_s: f64, along_m: f64) -> f64 {
        let free = upright(self.rayleigh(difference_k, height_m), self.prandtl())
            * self.conductivity
            / height_m;
        let reynolds = stream_m_s * along_m * self.density / self.viscosity;
        let forced =
            0.664 * reynolds.sqrt() * libm::cbrt(self.prandtl()) * self.conductivity / along_m;
        libm::cbrt(cube(free) + cube(forced))
    }
}

pub(super) fn bottle_overall_u(case: Case<'_>) -> Computed {
    let (liquid, tub) = (case.number("liquid_c")?, case.number("bath_c")?);
    let (wide, high) = (case.number("outer_diam_m")?, case.number("liquid_height_m")?);
    let wall = case.number("wall_m")? / case.number("wall_k")?;
    let (inside, outside) = match case.0["mode"].as_str() {
        Some("still") => (0.0, 0.0),
        Some("swirl" | "swirled") => (0.15, 0.0),
        Some(_) => (0.15, 0.10),
        None => return Err("no mode".to_owned()),
    };
    let along = std::f64::consts::PI * wide / 2.0;
    let difference = tub - liquid;
    // The two films share the difference by their resistances, which depend on their shares.
    let (mut inner, mut outer) = (difference / 3.0, difference / 3.0);
    let mut whole = 0.0;
    for _ in 0..200 {
        let in_film = Fluid::water(liquid + inner / 2.0).film(inner, high, inside, along);
        let out_film = Fluid::water(tub - outer / 2.0).film(outer, high, outside, along);
        whole = 1.0 / (1.0 / in_film + wall + 1.0 / out_film);
        inner = whole * difference / in_film;
        outer = whole * difference / out_film;
    }
    let area = std::f64::consts::PI * wide * (high + wide / 8.0);
    let heat = DENSITY.at(liquid) * HEAT.at(liquid) * case.number("volume_l")? / 1_000.0;
    Ok(results([
        ("u_w_m2k", number(whole)),
        ("ua_w_k", number(whole * area)),
        ("tau_s", number(heat / (whole * area))),
    ]))
}

/// Evaporation into quiet air, in kg per square metre and hour: Shah.
fn evaporation(water_c: f64, air_c: f64, humidity: f64) -> f64 {
    let vapour = |celsius: f64, share: f64| share * VAPOUR_PRESSURE.at(celsius);
    let dry = |celsius: f64, vapour: f64| (PRESSURE_PA - vapour) / (287.055 * (celsius + ZERO_C_K));
    let ratio = |vapour: f64| 0.621_98 * vapour / (PRESSURE_PA - vapour);
    let (at_water, in_room) = (vapour(water_c, 1.0), vapour(air_c, humidity));
    let (light, heavy) = (dry(water_c, at_water), dry(air_c, in_room));
    let rises =
        35.0 * light * libm::cbrt((heavy - light).max(0.0)) * (ratio(at_water) - ratio(in_room));
    rises.max(0.000_05 * (at_water - in_room))
}

pub(super) fn evaporation_shah(case: Case<'_>) -> Computed {
    let kg = evaporation(case.number("water_c")?, case.number("air_c")?, case.number("rh")?);
    Ok(results([("e_kg_m2h", number(kg))]))
}

pub(super) fn tub_loss(case: Case<'_>) -> Computed {
    let (water, air) = (case.number("water_c")?, case.number("air_c")?);
    let (surface, length) = (case.number("surface_m2")?, case.number("surface_length_m")?);
    let emissivity = case.number("emissivity")?;
    let evap =
        evaporation(water, air, case.number("rh")?) * surface / 3_600.0 * LATENT_HEAT.at(water);
    // A hot face looking up: McAdams.
    let film = Fluid::air(f64::midpoint(water, air));
    let rayleigh = film.rayleigh(water - air, length);
    let nusselt = if rayleigh <= 1e7 {
        0.54 * libm::pow(rayleigh, 0.25)
    } else {
        0.15 * libm::cbrt(rayleigh)
    };
    let conv = nusselt * film.conductivity / length * surface * (water - air);
    let fourth = |celsius: f64| cube(celsius + ZERO_C_K) * (celsius + ZERO_C_K);
    let glow = |warm: f64| emissivity * RADIATION_W_M2_K4 * (fourth(warm) - fourth(air));
    let rad = glow(water) * surface;
    // The wall: as high as its area over the edge of the surface.
    let area = case.number("wall_m2")?;
    let high = area / (4.0 * length);
    let resists = case.number("wall_m")? / case.number("wall_k")?;
    let mut outside = water;
    let mut flow = 0.0;
    for _ in 0..200 {
        let film = Fluid::air(f64::midpoint(outside, air)).film(outside - air, high, 0.0, 1.0);
        let leaves = film + glow(outside) / (outside - air);
        flow = (water - air) / (resists + 1.0 / leaves);
        outside = air + flow / leaves;
    }
    let wall = flow * area;
    Ok(results([
        ("evap_w", number(evap)),
        ("conv_w", number(conv)),
        ("rad_w", number(rad)),
        ("wall_w", number(wall)),
        ("ua_eff_w_k", number((evap + conv + rad + wall) / (water - air))),
    ]))
}
