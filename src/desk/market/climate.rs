//! A place's climate as charts with their numbers.

use crate::desk::frame::chart::{Chart, Curve, Figure};
use crate::desk::frame::months::MONTHS;
use crate::desk::frame::words::said;
use crate::sizing::Climate;

pub fn figures(climate: &Climate) -> Vec<Figure> {
    let weather = &climate.weather;
    let curve = |class, name, value: fn(&crate::sizing::weather::place::Weather) -> f64| Curve {
        class,
        name,
        points: weather.iter().enumerate().map(|(month, of_month)| (month as f64, value(of_month))).collect(),
    };
    let months = || MONTHS.iter().map(|name| said(name).into_owned()).collect::<Vec<_>>();
    let table = |values: &[fn(&crate::sizing::weather::place::Weather) -> f64]| {
        let rows = weather.iter().zip(MONTHS).map(|(of_month, name)| {
            [said(name).into_owned()]
                .into_iter()
                .chain(values.iter().map(|value| format!("{:.1}", value(of_month))))
                .collect()
        });
        rows.collect::<Vec<Vec<String>>>()
    };
    let figure = |chart: Chart, head: &[&str], rows| Figure {
        title: chart.title.clone(),
        svg: chart.svg(),
        head: ["Month"].iter().chain(head).map(|name| said(name).into_owned()).collect(),
        rows,
    };
    let sun = Chart {
        id: "sun",
        title: said("Sun on the flat and what the air draws").into_owned(),
        description: said("Mean daily sun and reference evapotranspiration of each month.").into_owned(),
        x_name: "month",
        y_name: "a day",
        x_names: months(),
        curves: vec![curve("two", "air draws, mm", |w| w.eto_mm_day)],
        bars: weather.iter().map(|w| w.h_kwh_m2_day).collect(),
        bars_name: "sun, kWh/m²",
        ..Chart::default()
    };
    let rain = Chart {
        id: "rain",
        title: said("Rain").into_owned(),
        description: said("Rain of each month.").into_owned(),
        x_name: "month",
        y_name: "mm",
        x_names: months(),
        bars: weather.iter().map(|w| w.rain_mm).collect(),
        bars_name: "rain, mm a month",
        ..Chart::default()
    };
    let warmth = Chart {
        id: "warmth",
        title: said("Warmth").into_owned(),
        description: said("Mean daily highest and lowest temperature of each month; below zero is drawn as zero.")
            .into_owned(),
        x_name: "month",
        y_name: "°C",
        x_names: months(),
        curves: vec![curve("one", "highest", |w| w.t_max_c.max(0.0)), curve("two", "lowest", |w| w.t_min_c.max(0.0))],
        ..Chart::default()
    };
    vec![
        figure(sun, &["Sun, kWh/m²", "Air draws, mm"], table(&[|w| w.h_kwh_m2_day, |w| w.eto_mm_day])),
        figure(rain, &["Rain, mm"], table(&[|w| w.rain_mm])),
        figure(warmth, &["Highest, °C", "Lowest, °C"], table(&[|w| w.t_max_c, |w| w.t_min_c])),
    ]
}
