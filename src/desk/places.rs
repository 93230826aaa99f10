//! Places: seen month by month, changed and added as place files with the same checks as everywhere.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;
use tracing::warn;

use super::Desk;
use super::advice::MONTHS;
use super::fault::Fault;
use super::member::{Member, Role};
use super::page::{Frame, download, show, show_wrong};
use super::set::{Chart, Curve, Figure};
use crate::sizing::Climate;
use crate::store::Signal;
use crate::world::row_of_file;

#[derive(Template)]
#[template(path = "look/places.html", config = "src/askama.toml")]
struct PlacesPage<'a> {
    frame: Frame<'a>,
    names: Vec<&'a str>,
    home: &'a str,
    file: &'a str,
    problem: Option<String>,
}

#[derive(Template)]
#[template(path = "look/place.html", config = "src/askama.toml")]
struct PlacePage<'a> {
    frame: Frame<'a>,
    climate: &'a Climate,
    file: String,
    figures: Vec<Figure>,
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, "", None)
}

fn page(desk: &Desk, member: &Member, file: &str, problem: Option<String>) -> Result<Response, Fault> {
    let world = desk.world();
    let names = world.place_names().collect();
    let is_wrong = problem.is_some();
    let page = PlacesPage { frame: Frame::new("Places", Some(member)), names, home: &world.home_place, file, problem };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

#[derive(Deserialize)]
pub struct Written {
    file: String,
}

/// Takes a place file: a new place, or another climate of one that is there.
pub async fn import(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Form(written): Form<Written>,
) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let is_toml = !written.file.trim_start().starts_with('{');
    let row = match row_of_file(&written.file, is_toml) {
        Ok(row) => row,
        Err(error) => return page(&desk, &member, &written.file, Some(error.to_string())),
    };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    step.put_place(&row, now).await?;
    step.note(&member.name, "put in a place", &row.name, now).await?;
    step.commit().await?;
    if let Err(error) = desk.store.signal(Signal::World).await {
        warn!(%error, "the place is known after the next change or start");
    }
    Ok(Redirect::to("/desk/places").into_response())
}

fn file_of(climate: &Climate) -> Result<String, Fault> {
    serde_json::to_string_pretty(&climate.place).map_err(|_| Fault::Failed)
}

pub async fn show_place(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(name): Path<String>,
) -> Result<Response, Fault> {
    let world = desk.world();
    let climate = world.place(&name).ok_or(Fault::NotFound)?;
    let frame = Frame::new(&climate.place.name, Some(&member));
    show(&PlacePage { frame, climate: &climate, file: file_of(&climate)?, figures: figures(&climate) })
}

pub async fn export(State(desk): State<Arc<Desk>>, _member: Member, Path(name): Path<String>) -> Result<Response, Fault> {
    let world = desk.world();
    let climate = world.place(&name).ok_or(Fault::NotFound)?;
    Ok(download(&format!("{name}.json"), "application/json", file_of(&climate)?))
}

fn figures(climate: &Climate) -> Vec<Figure> {
    let weather = &climate.weather;
    let curve = |class, name, value: fn(&crate::sizing::place::Weather) -> f64| Curve {
        class,
        name,
        points: weather.iter().enumerate().map(|(month, of_month)| (month as f64, value(of_month))).collect(),
    };
    let months = || MONTHS.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
    let table = |values: &[fn(&crate::sizing::place::Weather) -> f64]| {
        let rows = weather.iter().zip(MONTHS).map(|(of_month, name)| {
            [name.to_owned()].into_iter().chain(values.iter().map(|value| format!("{:.1}", value(of_month)))).collect()
        });
        rows.collect::<Vec<Vec<String>>>()
    };
    let figure = |chart: Chart, head: &[&str], rows| Figure {
        title: chart.title.clone(),
        svg: chart.svg(),
        head: ["Month"].iter().chain(head).map(|name| (*name).to_owned()).collect(),
        rows,
    };
    let sun = Chart {
        id: "sun",
        title: "Sun on the flat and what the air draws".to_owned(),
        description: "Mean daily sun and reference evapotranspiration of each month.".to_owned(),
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
        title: "Rain".to_owned(),
        description: "Rain of each month.".to_owned(),
        x_name: "month",
        y_name: "mm",
        x_names: months(),
        bars: weather.iter().map(|w| w.rain_mm).collect(),
        bars_name: "rain, mm a month",
        ..Chart::default()
    };
    let warmth = Chart {
        id: "warmth",
        title: "Warmth".to_owned(),
        description: "Mean daily highest and lowest temperature of each month; below zero is drawn as zero.".to_owned(),
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
