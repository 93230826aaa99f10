//! What must hold of any set under any sky.

use proptest::prelude::*;

use noonwater::sizing::advice::advise::advise_with_fixes;
use noonwater::sizing::advice::changes::Change;
use noonwater::sizing::light::sky::{Light, MonthSky, faiman_c};
use noonwater::sizing::light::stance::Stance;
use noonwater::sizing::operating::flow_table::FlowTable;
use noonwater::sizing::operating::plain::operating_point_plainly;
use noonwater::sizing::operating::point::operating_point;
use noonwater::sizing::operating::year::{Lifter, month_water};
use noonwater::sizing::parts::circuit::Circuit;
use noonwater::sizing::parts::panel::{Panel, cells_when_not_stated};
use noonwater::sizing::parts::pipe::{BORES_MM, Pipe};
use noonwater::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use noonwater::sizing::parts::pump_class::starting_classes;
use noonwater::sizing::set::sheet::CompleteSheet;
use noonwater::sizing::set::verdict::Verdict;
use noonwater::sizing::sun::position::SunDay;
use noonwater::sizing::weather::place::{MonthClimate, Place, Weather};
use noonwater::sizing::{Advice, Climate, Market, Sheet, advise};
use noonwater::terms::PipeKind;

use crate::common::{answer, kito};
use crate::quick::{Solver, plainly};
use noonwater::terms::StanceKind;

/// So many random inputs; a failing one is printed whole, and none is kept in a file.
fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// Pumps of every class, and any other within reason, amps printed or not.
fn label() -> impl Strategy<Value = PumpLabel> {
    let of_a_class = prop::sample::select(starting_classes()).prop_map(|class| class.label);
    let any = (
        prop::sample::select(vec![12.0, 24.0, 48.0]),
        500.0..30_000.0,
        2.0..60.0,
        prop::option::of(1.0..40.0),
        any::<bool>(),
    )
        .prop_map(|(label_v, flow_l_h, head_m, amps, electronics)| PumpLabel {
            label_v,
            flow_l_h,
            head_m,
            amps,
            electronics,
            displacement: false,
        });
    prop_oneof![2 => of_a_class, 1 => any]
}

/// Circuits whose array is of the pump's kind of voltage, at lifts from nothing to beyond the pump's reach.
fn circuit() -> impl Strategy<Value = Circuit> {
    let pipe = (1.0..300.0, prop::sample::select(BORES_MM.to_vec()));
    let panel = prop::sample::select(vec![20.0, 50.0, 80.0, 100.0, 180.0, 300.0, 380.0]);
    (label(), panel, 0.3..8.0, 0.0..1.1, pipe, 0.0..0.6_f64).prop_map(
        |(label, watts, parallel, lift_share, (length_m, bore_mm), cable_ohm)| {
            let panel = Panel::new(watts, cells_when_not_stated(watts)).expect("in range");
            let series = (1.4 * label.label_v / (0.5 * f64::from(panel.cells))).round().max(1.0);
            let pump = Pump::from_label(&label, LabelShare::default()).expect("in range");
            Circuit {
                panel,
                series,
                parallel,
                pump,
                pipe: Pipe::new(length_m, bore_mm, PipeKind::default()).expect("in range"),
                static_head_m: lift_share * pump.shut_off_m,
                cable_ohm,
            }
        },
    )
}

fn light() -> impl Strategy<Value = Light> {
    (0.0..1300.0, 0.0..80.0).prop_map(|(poa_w_m2, cell_c)| Light { poa_w_m2, cell_c })
}

fn flow(circuit: &Circuit, light: Light) -> f64 {
    operating_point(circuit, light).expect("in range").flow_m3_s
}

/// Rounding of the meeting point, m³/s.
fn slack(circuit: &Circuit) -> f64 {
    1e-8 * circuit.pump.free_flow_m3_s
}

fn stance() -> impl Strategy<Value = Stance> {
    prop_oneof![
        Just(Stance::FLAT),
        (0.0..90.0).prop_map(|tilt| Stance::fixed(tilt).expect("in range")),
        (0.0..90.0).prop_map(|cap| Stance::turned(cap).expect("in range")),
    ]
}

/// Weather of a month at a latitude, its clearness from dull to the clearest there is.
fn weather() -> impl Strategy<Value = (f64, Weather)> {
    (-60.0..60.0, 1_u8..=12, 0.15..0.78, -10.0..30.0, 0.0..18.0, 0.0..8.0).prop_map(
        |(lat_deg, month, clearness, t_min_c, range, u2_m_s)| {
            let h0 = SunDay::of_month(lat_deg, month).expect("in range").extraterrestrial_kwh_m2();
            let weather = Weather {
                month,
                h_kwh_m2_day: clearness * h0,
                t_min_c,
                t_max_c: t_min_c + range,
                u2_m_s,
                rain_mm: 0.0,
                rh_min_percent: 45.0,
                eto_mm_day: 4.0,
            };
            (lat_deg, weather)
        },
    )
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn more_lift_never_gives_more_water(circuit in circuit(), light in light(), more in 0.0..10.0) {
        let higher = Circuit { static_head_m: circuit.static_head_m + more, ..circuit };
        prop_assert!(flow(&higher, light) <= flow(&circuit, light) + slack(&circuit));
    }

    #[test]
    fn a_wider_pipe_never_gives_less(circuit in circuit(), light in light(), wider in 1.0..3.0) {
        let pipe = Pipe { bore_m: circuit.pipe.bore_m * wider, ..circuit.pipe };
        let wide = Circuit { pipe, ..circuit };
        prop_assert!(flow(&wide, light) >= flow(&circuit, light) - slack(&circuit));
    }

    #[test]
    fn a_longer_pipe_and_a_thinner_cable_never_give_more(circuit in circuit(), light in light(), by in 1.0..3.0) {
        let pipe = Pipe { length_m: circuit.pipe.length_m * by, ..circuit.pipe };
        let long = Circuit { pipe, ..circuit };
        prop_assert!(flow(&long, light) <= flow(&circuit, light) + slack(&circuit));
        let thin = Circuit { cable_ohm: circuit.cable_ohm * by, ..circuit };
        prop_assert!(flow(&thin, light) <= flow(&circuit, light) + slack(&circuit));
    }

    #[test]
    fn more_light_on_cells_as_warm_never_gives_less(circuit in circuit(), light in light(), more in 0.0..300.0) {
        let brighter = Light { poa_w_m2: light.poa_w_m2 + more, ..light };
        prop_assert!(circuit.pump.electronics || flow(&circuit, brighter) >= flow(&circuit, light) - slack(&circuit));
    }

    /// The sun heats what it lights, and an array far larger than its pump can lose more by heat than it gains by light.
    /// While the pump takes the array below the voltage of its greatest power, light always wins.
    #[test]
    fn more_sun_never_gives_less_while_the_array_is_short_of_current(
        circuit in circuit(), dim in 0.0..1000.0, more in 0.0..300.0, air_c in 0.0..40.0, wind in 0.5..6.0,
    ) {
        let under = |poa_w_m2: f64| Light { poa_w_m2, cell_c: faiman_c(poa_w_m2, air_c, wind) };
        let (dimmer, brighter) = (operating_point(&circuit, under(dim)).unwrap(), operating_point(&circuit, under(dim + more)).unwrap());
        let bright = under(dim + more);
        let peak_v = circuit.panel.at(0.9 * bright.poa_w_m2, bright.cell_c).unwrap().greatest_power().voltage_v;
        let array_v = |running| circuit.array_v(running) / circuit.series;
        let short_of_current = array_v(&brighter) < peak_v && array_v(&dimmer) < peak_v;
        prop_assert!(
            !short_of_current || circuit.pump.electronics || brighter.flow_m3_s >= dimmer.flow_m3_s - slack(&circuit)
        );
    }

    #[test]
    fn a_cooler_cell_never_has_less_voltage(
        watts in 5.0..1000.0, suns in 0.01..1.4, cell_c in -30.0..110.0, cooler in 0.0..40.0,
    ) {
        let panel = Panel::new(watts, cells_when_not_stated(watts)).unwrap();
        let colder = f64::max(cell_c - cooler, -40.0);
        prop_assert!(panel.open_circuit_v(colder).unwrap() >= panel.open_circuit_v(cell_c).unwrap() - 1e-9);
        let open_v = |cell_c| panel.at(1000.0 * suns, cell_c).unwrap().open_circuit_v();
        prop_assert!(open_v(colder) >= open_v(cell_c) - 1e-9);
    }

    #[test]
    fn the_quick_solver_is_the_plain_one(circuit in circuit(), light in light()) {
        let (quick, plain) = (operating_point(&circuit, light).unwrap(), operating_point_plainly(&circuit, light.poa_w_m2, light.cell_c).unwrap());
        prop_assert!((quick.speed - plain.speed).abs() <= 1e-6 * plain.speed.max(0.01), "{} {}", quick.speed, plain.speed);
        prop_assert!((quick.flow_m3_s - plain.flow_m3_s).abs() <= 2e-6 * circuit.pump.free_flow_m3_s);
    }

    #[test]
    fn the_table_gives_the_plain_solver_s_flow(circuit in circuit(), light in light()) {
        let table = FlowTable::new(&circuit, 0.0, 80.0).unwrap();
        let plain = operating_point_plainly(&circuit, light.poa_w_m2, light.cell_c).unwrap().flow_m3_s;
        // A pump that hardly reaches the outlet has no full flow to speak of: a tenth of its label's then.
        let full = operating_point_plainly(&circuit, 1300.0, 0.0).unwrap().flow_m3_s.max(0.1 * circuit.pump.free_flow_m3_s);
        // Where electronics are held to the array's voltage near the speed that starts the flow, a kelvin decides.
        prop_assert!((table.flow_m3_s(light).unwrap() - plain).abs() <= full * if circuit.pump.electronics { 0.03 } else { 0.005 },
            "{} {plain} of {full}", table.flow_m3_s(light).unwrap());
    }

    #[test]
    fn day_types_add_up((lat_deg, weather) in weather()) {
        let sky = MonthSky::new(lat_deg, &weather, Stance::FLAT).unwrap();
        let day = SunDay::of_month(lat_deg, weather.month).unwrap();
        let days: Vec<f64> = (0..10).map(|kind| sky.day(kind).iter().map(|light| light.poa_w_m2).sum::<f64>() / 4000.0).collect();
        prop_assert!(days.windows(2).all(|pair| pair[0] < pair[1]), "dullest first");
        // Ten points stand for the whole distribution: their mean is the month's clearness, to 2 % within the range of clearness
        // that Herzog fitted, to 8 % in the dullest month there is.
        let clearness = (weather.h_kwh_m2_day / day.extraterrestrial_kwh_m2()).clamp(0.2, 0.75);
        let off = days.iter().sum::<f64>() / 10.0 / (clearness * day.extraterrestrial_kwh_m2()) - 1.0;
        prop_assert!(off.abs() < if clearness > 0.3 { 0.02 } else { 0.08 }, "{off} at {clearness}");
        prop_assert!(days[9] < 0.85 * day.extraterrestrial_kwh_m2());
    }

    #[test]
    fn light_on_any_stance_is_a_light((lat_deg, weather) in weather(), stance in stance()) {
        let sky = MonthSky::new(lat_deg, &weather, stance).unwrap();
        for kind in 0..10 {
            for light in sky.day(kind) {
                prop_assert!((0.0..=1600.0).contains(&light.poa_w_m2), "{}", light.poa_w_m2);
                prop_assert!((-40.0..=110.0).contains(&light.cell_c), "{}", light.cell_c);
            }
            prop_assert_eq!(sky.at(kind, 0.0).poa_w_m2, 0.0);
        }
    }
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn the_table_gives_the_plain_solver_s_water((lat_deg, weather) in weather(), stance in stance(), circuit in circuit()) {
        let sky = MonthSky::new(lat_deg, &weather, stance).unwrap();
        let (coldest_c, hottest_c) = sky.cell_range_c();
        let table = month_water(&sky, &FlowTable::new(&circuit, coldest_c, hottest_c).unwrap(), 1.0, f64::INFINITY).unwrap();
        let plain = month_water(&sky, &Solver(&circuit, plainly), 1.0, f64::INFINITY).unwrap();
        // Of next to no water a share means nothing: a second of the pump's full flow a day is let pass.
        let second = circuit.pump.free_flow_m3_s;
        for (table, plain) in [(table.water_m3_day, plain.water_m3_day), (table.poor_day_m3, plain.poor_day_m3)] {
            prop_assert!((table - plain).abs() <= 0.002 * plain + second, "{table} {plain}");
        }
        prop_assert_eq!(table.panel_kwh_m2_day, plain.panel_kwh_m2_day);
    }
}

/// A place anywhere within sixty degrees, its months as clear and as warm as they may be, gaps and all.
fn place() -> impl Strategy<Value = Place> {
    let month = (
        0.15..0.78,
        0_u8..3,
        0.0..1.0,
        -15.0..28.0,
        0.5..18.0,
        prop::option::of(5.0..100.0),
        prop::option::of(0.0..8.0),
        0.0..600.0,
    );
    (
        -60.0..60.0,
        0.0..4000.0,
        any::<bool>(),
        prop::collection::btree_set(1_u8..=12, 0..12),
        prop::collection::vec(month, 12),
    )
        .prop_map(|(lat_deg, alt_m, coastal, season, months)| {
            let months =
                (1_u8..).zip(months).map(|(month, (clearness, kind, sun, t_min_c, range, rh_percent, u2_m_s, rain))| {
                    let day = SunDay::of_month(lat_deg, month).expect("in range");
                    let day_length_h = day.sunset_rad() * 24.0 / std::f64::consts::PI;
                    MonthClimate {
                        h_kwh_m2_day: (kind == 0).then(|| clearness * day.extraterrestrial_kwh_m2()),
                        sunshine_h: (kind == 1).then_some(0.98 * sun * day_length_h),
                        t_min_c,
                        t_max_c: t_min_c + range,
                        rh_percent,
                        u2_m_s,
                        rain_mm: Some(rain),
                    }
                });
            Place {
                name: "Anywhere".to_owned(),
                lat_deg,
                lon_deg: 0.0,
                alt_m,
                utc_offset_h: 0.0,
                coastal,
                season_months: season.into_iter().collect(),
                low_water_month: None,
                source: None,
                months: months.collect(),
            }
        })
}

fn sheet() -> impl Strategy<Value = Sheet> {
    let stance =
        prop::sample::select(vec![None, Some(StanceKind::Flat), Some(StanceKind::Fixed), Some(StanceKind::Turned)]);
    let panel = prop::sample::select(vec![20.0, 50.0, 80.0, 100.0, 180.0, 300.0, 380.0, 550.0]);
    let pump = prop::option::weighted(0.8, label());
    let rest = (prop::option::of(1_u8..=12), prop::option::of(20.0..20_000.0), prop::option::of(50.0..50_000.0), 1_u32..4);
    (0.0..40.0, 0.0..10.0, 0.5..400.0, 1_u32..24, panel, stance, pump, rest).prop_map(
        |(lift_m, lower, pipe_m, panel_count, panel_w, stance, pump, (month, well_l_h, garden_m2, pump_count))| Sheet {
            lift_m: Some(lift_m),
            low_m: Some(lift_m + lower),
            pipe_m: Some(pipe_m),
            panel_count: Some(panel_count.max(pump_count)),
            panel_w: Some(panel_w),
            stance,
            pump,
            pump_count: Some(pump_count),
            month,
            well_l_h,
            garden_m2,
            ..Sheet::default()
        },
    )
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn a_year_anywhere_is_made_of_numbers_in_order(place in place(), sheet in sheet()) {
        let climate = Climate::new(place).unwrap();
        let advice = advise(&sheet.fill(climate.place.lat_deg).unwrap(), &climate, &Market::default()).unwrap();
        let noon = &advice.bright_noon;
        for value in [noon.flow_l_min, noon.head_m, noon.pipe_loss_m, noon.pump_v, noon.pump_a, noon.speed, advice.wire.drop_percent] {
            prop_assert!(value.is_finite() && value >= 0.0, "{noon:?}");
        }
        prop_assert_eq!(advice.months.len(), 12);
        for month in &advice.months {
            let day = SunDay::of_month(climate.place.lat_deg, month.month).unwrap();
            let day_length_h = day.sunset_rad() * 24.0 / std::f64::consts::PI;
            let water = &month.water;
            for value in [month.sun_kwh_m2_day, water.panel_kwh_m2_day, water.water_m3_day, water.poor_day_m3, water.pumping_hours, month.eto_mm_day, month.need_l_m2_day] {
                prop_assert!(value.is_finite() && value >= 0.0, "{month:?}");
            }
            // Eight days in ten reach the poor day's water, so the mean is at least eight tenths of it.
            prop_assert!(water.poor_day_m3 <= water.water_m3_day / 0.8 + 1e-9, "{month:?}");
            prop_assert!(water.pumping_hours <= day_length_h + 0.25, "{month:?}");
            prop_assert!(month.sun_kwh_m2_day <= day.extraterrestrial_kwh_m2() + 1e-9, "{month:?}");
            // A desert wind in the driest air gives some 20 mm a day.
            prop_assert!((0.0..=25.0).contains(&month.eto_mm_day), "{month:?}");
            prop_assert_eq!(month.area_m2.is_some(), month.need_l_m2_day > 0.0);
            prop_assert!(month.area_m2.is_none_or(|area| area.is_finite() && area >= 0.0));
            if let Some(well_l_h) = sheet.well_l_h {
                prop_assert!(water.water_m3_day <= well_l_h / 1000.0 * water.pumping_hours * 1.000001, "{month:?}");
            }
        }
        for hour in &advice.hours {
            prop_assert!(hour.flow_l_min.is_finite() && hour.flow_l_min >= 0.0);
        }
    }

    #[test]
    fn twice_the_set_is_twice_the_water(
        class in prop::sample::select(vec!["tiny", "small", "middle", "large"]), panels in 1_u32..6, watts in 30.0..200.0,
        lift_m in 0.0..6.0, pipe_m in 5.0..150.0, times in 2_u32..4,
    ) {
        // 12 V and 36 cells: one panel in series however many there are.
        let one = Sheet {
            lift_m: Some(lift_m),
            pipe_m: Some(pipe_m),
            panel_count: Some(panels),
            panel_w: Some(watts),
            pump: Some(crate::common::class(class)),
            ..Sheet::default()
        };
        let many = Sheet { panel_count: Some(panels * times), pump_count: Some(times), ..one.clone() };
        let climate = kito();
        let (one, many): (Advice, Advice) = (answer(&one, &climate), answer(&many, &climate));
        prop_assert_eq!(one.sheet.bore_mm, many.sheet.bore_mm);
        prop_assert_eq!(one.sheet.wire_mm2, many.sheet.wire_mm2);
        for (one, many) in one.months.iter().zip(&many.months) {
            let expected = f64::from(times) * one.water.water_m3_day;
            prop_assert!((many.water.water_m3_day - expected).abs() <= 1e-9 * expected.max(1e-9));
        }
    }
}

proptest! {
    #![proptest_config(cases(40))]

    /// Written into the sheet and advised anew, as the grower would who does what the fix says.
    #[test]
    fn every_fix_is_enough_when_the_changed_sheet_is_advised_anew(
        place in place(), sheet in sheet(), label in label(), short_by in 0.3..1.1_f64,
    ) {
        let Ok(climate) = Climate::new(place) else { return Ok(()) };
        let market = Market::default();
        let sheet = Sheet { pump: Some(label), garden_m2: Some(1000.0), ..sheet };
        let filled = sheet.fill(climate.place.lat_deg).unwrap();
        // A garden that the set nearly waters, or waters by a third: there is something to fix, and a fix for it.
        let served_m2 = advise(&filled, &climate, &market).unwrap().design().area_m2.unwrap_or(0.0);
        prop_assume!((20.0..1e6).contains(&served_m2));
        let filled = CompleteSheet { garden_m2: Some(served_m2 / short_by), ..filled };
        let advice = advise_with_fixes(&filled, &climate, &market).unwrap();
        for fix in &advice.fixes {
            let mut changed = filled.clone();
            fix.changes.iter().for_each(|change| change.apply(&mut changed));
            let again = advise(&changed, &climate, &market).unwrap();
            prop_assert_eq!(again.verdict, Some(Verdict::Enough), "{:?}", fix);
            prop_assert!(!again.over_driven || fix.changes.iter().any(|change| matches!(change, Change::GardenM2(_))));
        }
    }
}
