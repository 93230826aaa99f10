//! Counts for the season's report.

mod file;
mod words;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use chrono::{Days, NaiveDate, TimeDelta, Utc};
use rust_decimal::prelude::ToPrimitive;
use serde::Deserialize;

use self::words::{key_in_words, label};
use crate::desk::frame::chart::{Chart, Figure};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::frame::span::in_words;
use crate::desk::frame::words::{said, said_with};
use crate::desk::state::Desk;
use crate::store::{Count, Crossed, Span, Split};
use crate::turn::World;
pub use file::{export, workbook};

/// Shown unless other days are chosen.
const WEEKS: u64 = 12;

#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Asked {
    from: String,
    until: String,
    split: String,
    /// By what the counts are crossed: rows and columns.
    row: String,
    col: String,
}

/// The days that are asked for, and the span of time that they are.
struct Asking {
    from: NaiveDate,
    until: NaiveDate,
    span: Span,
}

impl Asked {
    fn days(&self, desk: &Desk) -> Asking {
        let (clock, world) = (desk.clock(), desk.world());
        let day = |text: &str| text.parse::<NaiveDate>().ok();
        let until = day(&self.until).unwrap_or_else(|| clock.today(Utc::now()));
        let from = day(&self.from).or(until.checked_sub_days(Days::new(7 * WEEKS))).unwrap_or(until);
        let end = until.checked_add_days(Days::new(1)).unwrap_or(until);
        let span = Span {
            from: clock.start_of(from),
            until: clock.start_of(end),
            utc_offset_h: world.place(&world.home_place).map_or(0.0, |climate| climate.place.utc_offset_h),
            places: world.place_names().map(str::to_owned).collect(),
        };
        Asking { from, until, span }
    }
}

/// Counts by two things, as a table.
struct Cross {
    head: Vec<String>,
    /// The row's name and its cells: growers, and hectares where there are any.
    rows: Vec<(String, Vec<String>)>,
}

#[derive(Template)]
#[template(path = "look/numbers.html", config = "src/askama.toml")]
struct NumbersPage<'a> {
    frame: Frame<'a>,
    from: NaiveDate,
    until: NaiveDate,
    total: Option<Count>,
    not_delivered: i64,
    stands_for: String,
    figures: Vec<Figure>,
    tables: Vec<(Split, Vec<Count>)>,
    row: Split,
    col: Split,
    cross: Cross,
    world: &'a World,
}

impl NumbersPage<'_> {
    fn time(&self, seconds: &Option<f64>) -> String {
        seconds.map_or("-".to_owned(), |seconds| in_words(TimeDelta::seconds(seconds as i64)))
    }

    /// A time that is mostly short.
    fn short_time(&self, seconds: &Option<f64>) -> String {
        match seconds {
            Some(seconds) if *seconds < 100.0 => format!("{seconds:.1} s"),
            other => self.time(other),
        }
    }

    fn hectares(&self, hectares: &Option<f64>) -> String {
        hectares.map_or("-".to_owned(), |hectares| format!("{hectares:.2}"))
    }

    fn label(&self, split: &Split) -> String {
        label(*split)
    }

    fn key(&self, split: &Split, count: &Count) -> String {
        key_in_words(self.world, *split, &count.key)
    }

    fn splits(&self) -> [Split; 8] {
        Split::ALL
    }
}

pub async fn show_numbers(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let Asking { from, until, span } = asked.days(&desk);
    let world = desk.world();
    let _counting = desk.counting.lock().await;
    let mut tables = Vec::new();
    for split in Split::ALL {
        tables.push((split, desk.store.counts(split, &span).await?));
    }
    let total = desk.store.totals(&span).await?;
    let (row, col) = (Split::named(&asked.row).unwrap_or(Split::Month), Split::named(&asked.col).unwrap_or(Split::Verdict));
    let crossed = desk.store.crossed(row, col, &span).await?;
    show(&NumbersPage {
        frame: Frame::new("Numbers", Some(&member)),
        from,
        until,
        not_delivered: desk.store.not_delivered(&span).await?,
        stands_for: stands_for(&world, total.as_ref()),
        figures: figures(&world, &tables),
        tables,
        cross: cross(&world, row, col, &crossed),
        total,
        row,
        col,
        world: &world,
    })
}

/// What the advised sets stand for, with what is assumed.
fn stands_for(world: &World, total: Option<&Count>) -> String {
    let Some(water) = total.and_then(|total| total.water_m3_day).filter(|water| *water > 0.0) else {
        return String::new();
    };
    let m3 = format!("{water:.0}");
    let petrol = world.market.prices.petrol.as_ref();
    let burns = petrol.and_then(|petrol| Some((petrol.flow_l_h.to_f64()?, petrol.fuel_l_h.to_f64()?)));
    match burns.filter(|(flow_l_h, _)| *flow_l_h > 0.0) {
        Some((flow_l_h, fuel_l_h)) => said_with(
            "The sets that are enough or just enough stand for {water} m³ a day in the month they were counted for. Lifted by a petrol pump of {flow} l/h that burns {burns} l an hour, as the price list says, that is {fuel} l of petrol a day.",
            &[
                ("water", &m3),
                ("flow", &format!("{flow_l_h:.0}")),
                ("burns", &fuel_l_h),
                ("fuel", &format!("{:.0}", water * 1000.0 / flow_l_h * fuel_l_h)),
            ],
        ),
        None => said_with(
            "The sets that are enough or just enough stand for {water} m³ a day in the month they were counted for. The price list has no petrol pump to compare with.",
            &[("water", &m3)],
        ),
    }
}

/// How the weeks went, and what the advice came to.
fn figures(world: &World, tables: &[(Split, Vec<Count>)]) -> Vec<Figure> {
    let of = |wanted: Split| tables.iter().find(|(split, _)| *split == wanted).map(|(_, counts)| counts.as_slice());
    let draw = |id, split: Split, title: &str, value: fn(&Count) -> i64, name: &'static str| {
        let counts = of(split).unwrap_or_default();
        let most = counts.iter().max_by_key(|count| value(count));
        let key = |count: &Count| key_in_words(world, split, &count.key);
        let description = most.map_or_else(
            || said("Nothing was counted.").into_owned(),
            |most| said_with("The most are {key}: {count}.", &[("key", &key(most)), ("count", &value(most))]),
        );
        let chart = Chart {
            id,
            title: said(title).into_owned(),
            description,
            x_name: split.name(),
            y_name: name,
            x_names: counts.iter().map(|count| key(count).split('-').next_back().unwrap_or_default().to_owned()).collect(),
            bars: counts.iter().map(|count| value(count) as f64).collect(),
            bars_name: name,
            bar_values: counts.len() <= 14,
            ..Chart::default()
        };
        let rows = counts.iter().map(|count| vec![key(count), value(count).to_string()]).collect();
        Figure { title: chart.title.clone(), svg: chart.svg(), head: vec![label(split), said(name).into_owned()], rows }
    };
    vec![
        draw("reached", Split::Week, "Growers reached by week", |count| count.growers, "growers"),
        draw("came-to", Split::Verdict, "Growers by what the advice came to", |count| count.growers, "growers"),
    ]
}

fn cross(world: &World, row: Split, col: Split, cells: &[Crossed]) -> Cross {
    let mut columns: Vec<&str> = cells.iter().map(|cell| cell.col.as_str()).collect();
    columns.sort_unstable();
    columns.dedup();
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for cell in cells {
        let name = key_in_words(world, row, &cell.row);
        if rows.last().is_none_or(|(last, _)| *last != name) {
            rows.push((name, vec![String::new(); columns.len()]));
        }
        let hectares = cell.hectares.map(|hectares| format!(", {hectares:.2} ha")).unwrap_or_default();
        if let (Some((_, texts)), Some(at)) = (rows.last_mut(), columns.iter().position(|column| *column == cell.col)) {
            texts[at] = format!("{}{hectares}", cell.growers);
        }
    }
    Cross { head: columns.into_iter().map(|column| key_in_words(world, col, column)).collect(), rows }
}
