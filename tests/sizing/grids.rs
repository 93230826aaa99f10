//! One model at a time over a grid of inputs, against general libraries.
//!
//! Cross-checks, not publications: `tests/reference/grids.py` names the libraries and wrote `grids.json`.

use serde::Deserialize;

use noonwater::sizing::light::sky::Light;
use noonwater::sizing::light::stance::{Plane, PlaneView};
use noonwater::sizing::operating::plain::operating_point_plainly;
use noonwater::sizing::operating::point::operating_point;
use noonwater::sizing::parts::circuit::{Circuit, SOILING_DERATE};
use noonwater::sizing::parts::panel::{Panel, cells_when_not_stated};
use noonwater::sizing::parts::pipe::{Pipe, friction_factor};
use noonwater::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use noonwater::sizing::sun::position::SunPosition;
use noonwater::sizing::weather::evapotranspiration::{DayWeather, extraterrestrial, reference_mm_day};
use noonwater::terms::PipeKind;
use noonwater::units::l_min_from_m3_s;

use crate::common::{near, near_share};

#[derive(Deserialize)]
struct Grids {
    poa: Vec<[f64; 8]>,
    diode: Vec<[f64; 6]>,
    peaks: Vec<[f64; 6]>,
    friction: Vec<[f64; 3]>,
    eto: Vec<[f64; 9]>,
    meeting: Vec<Meeting>,
}

#[derive(Deserialize)]
struct Meeting {
    pump: PumpLabel,
    watts: f64,
    series: f64,
    parallel: f64,
    static_m: f64,
    pipe_m: f64,
    bore_mm: f64,
    cable_ohm: f64,
    /// In-plane W/m² before dust, cell degC, speed, litres a minute, amps.
    points: Vec<[f64; 5]>,
}

fn grids() -> Grids {
    serde_json::from_str(include_str!("../reference/grids.json")).expect("grids.json reads")
}

/// Library azimuths run from north over east; the engine's from south over west.
fn from_south(azimuth_deg: f64) -> f64 {
    (azimuth_deg - 180.0).to_radians()
}

#[test]
fn light_on_tilted_planes() {
    // pvlib.irradiance.get_total_irradiance, model haydavies.
    let rows = grids().poa;
    assert!(rows.len() > 200);
    for row @ [zenith, azimuth, tilt, facing, global, diffuse, extra, in_plane] in rows {
        let sun = SunPosition { cos_zenith: zenith.to_radians().cos(), azimuth_rad: from_south(azimuth) };
        let plane = Plane { tilt_rad: tilt.to_radians(), azimuth_rad: from_south(facing) };
        let ours = PlaneView::new(sun, plane, extra).on_plane_w_m2(global, diffuse);
        near_share(&format!("{row:?}"), ours, in_plane, 1e-6);
    }
}

#[test]
fn panel_curves() {
    // pvlib.pvsystem.calcparams_desoto, i_from_v (brentq) and singlediode on the engine's generic cell.
    let grids = grids();
    for row @ [watts, cells, irradiance, cell_c, volts, amps] in grids.diode {
        let panel = Panel::new(watts, cells as u32).expect("in range");
        let curve = panel.at(irradiance, cell_c).expect("in range");
        near(&format!("current {row:?}"), curve.current_a(volts), amps, 1e-6 * panel.isc_a());
    }
    for row @ [watts, cells, irradiance, cell_c, peak_w, open_v] in grids.peaks {
        let curve = Panel::new(watts, cells as u32).expect("in range").at(irradiance, cell_c).expect("in range");
        near_share(&format!("greatest power {row:?}"), curve.greatest_power().power_w, peak_w, 1e-6);
        near_share(&format!("open circuit {row:?}"), curve.open_circuit_v(), open_v, 1e-6);
    }
}

#[test]
fn friction_factors() {
    // fluids.friction.Clamond: Colebrook to machine precision.
    for row @ [re, roughness, factor] in grids().friction {
        near_share(&format!("{row:?}"), friction_factor(re, roughness).expect("in range"), factor, 1e-6);
    }
}

#[test]
fn reference_evapotranspiration() {
    // pyet.pm_fao56.
    for row @ [lat, day, altitude_m, t_min_c, t_max_c, vapour_kpa, wind, radiation, eto] in grids().eto {
        let weather = DayWeather {
            t_min_c,
            t_max_c,
            t_mean_c: (t_min_c + t_max_c) / 2.0,
            vapour_kpa,
            wind_2m_m_s: wind,
            radiation_mj_m2: radiation,
            soil_heat_mj_m2: 0.0,
            altitude_m,
        };
        let sky = extraterrestrial(lat, day as u16).expect("in range");
        near_share(&format!("{row:?}"), reference_mm_day(&weather, sky).expect("in range"), eto, 0.005);
    }
}

#[test]
fn meeting_points() {
    // scipy.optimize.brentq in speed over pvlib's single diode and fluids' Colebrook; with electronics the same in power.
    for row in grids().meeting {
        let circuit = Circuit {
            panel: Panel::new(row.watts, cells_when_not_stated(row.watts)).expect("in range"),
            series: row.series,
            parallel: row.parallel,
            pump: Pump::from_label(&row.pump, LabelShare::default()).expect("in range"),
            pipe: Pipe::new(row.pipe_m, row.bore_mm, PipeKind::default()).expect("in range"),
            static_head_m: row.static_m,
            cable_ohm: row.cable_ohm,
        };
        let full_l_min = l_min_from_m3_s(circuit.pump.free_flow_m3_s);
        for point @ [poa, cell_c, speed, l_min, amps] in row.points {
            let quick = operating_point(&circuit, Light { poa_w_m2: poa, cell_c }).expect("in range");
            let plain = operating_point_plainly(&circuit, poa, cell_c).expect("in range");
            for (way, ours) in [("quick", quick), ("plain", plain)] {
                let what = format!("{way} {:?} {point:?}", row.pump);
                near(&format!("{what} speed"), ours.speed, speed, 1e-5 * speed.max(0.01));
                near(&format!("{what} flow"), l_min_from_m3_s(ours.flow_m3_s), l_min, 2e-5 * full_l_min);
                if speed > 0.0 {
                    near(&format!("{what} amps"), ours.pump_a, amps, 2e-5 * circuit.pump.rated_a);
                }
            }
        }
    }
    // The library's points were made with the same share lost to dust.
    assert_eq!(SOILING_DERATE, 0.90);
}
