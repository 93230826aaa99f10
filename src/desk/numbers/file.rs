//! The counts to take away: one table as CSV, or all of them as one workbook.

use std::sync::Arc;

use axum::extract::{Query, State};
use axum::response::Response;
use rust_xlsxwriter::{Workbook, XlsxError};

use super::words::{key_in_words, label};
use super::{Asked, Asking};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::download;
use crate::desk::frame::words::said;
use crate::desk::staff::taken::took_away;
use crate::desk::state::Desk;
use crate::store::{Count, Split};
use crate::table::defused;

/// The columns behind the first.
const COLUMNS: [&str; 18] = [
    "messages",
    "growers",
    "new_growers",
    "returning_growers",
    "gardens",
    "hectares",
    "water_m3_day",
    "by_program",
    "to_person",
    "person_answered",
    "person_median_s",
    "taken_median_s",
    "taken_nine_in_ten_s",
    "enough",
    "tight",
    "short",
    "with_trouble",
    "with_fix",
];

/// A row's cells in them.
fn cells(count: &Count) -> [String; 18] {
    let number = |number: i64| number.to_string();
    let seconds = |seconds: Option<f64>| seconds.map(|seconds| format!("{seconds:.0}")).unwrap_or_default();
    let tenths = |seconds: Option<f64>| seconds.map(|seconds| format!("{seconds:.1}")).unwrap_or_default();
    let hundredths = |value: Option<f64>| value.map(|value| format!("{value:.2}")).unwrap_or_default();
    [
        number(count.messages),
        number(count.growers),
        number(count.new_growers),
        number(count.growers - count.new_growers),
        number(count.gardens),
        hundredths(count.hectares),
        tenths(count.water_m3_day),
        number(count.by_program),
        number(count.to_person),
        number(count.person_answered),
        seconds(count.person_median_s),
        tenths(count.taken_median_s),
        tenths(count.taken_nine_in_ten_s),
        number(count.enough),
        number(count.tight),
        number(count.short),
        number(count.with_trouble),
        number(count.with_fix),
    ]
}

pub async fn export(State(desk): State<Arc<Desk>>, member: Member, Query(asked): Query<Asked>) -> Result<Response, Fault> {
    let named = if asked.split.is_empty() { "week" } else { asked.split.as_str() };
    let split = Split::named(named).ok_or(Fault::NotFound)?;
    let Asking { span, .. } = asked.days(&desk);
    took_away(&desk, &member, &format!("counts by {named}")).await?;
    let _counting = desk.counting.lock().await;
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([split.name()].into_iter().chain(COLUMNS)).map_err(|_| Fault::Failed)?;
    for count in desk.store.counts(split, &span).await? {
        // A place is called as a grower wrote it.
        let key = defused(&count.key).into_owned();
        writer.write_record([key].into_iter().chain(cells(&count))).map_err(|_| Fault::Failed)?;
    }
    let bytes = writer.into_inner().map_err(|_| Fault::Failed)?;
    Ok(download(&format!("counts-by-{named}.csv"), "text/csv; charset=utf-8", bytes))
}

/// Every table, a sheet each.
pub async fn workbook(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let Asking { from, until, span } = asked.days(&desk);
    let world = desk.world();
    took_away(&desk, &member, "all counts").await?;
    let _counting = desk.counting.lock().await;
    let mut tables = Vec::new();
    for split in Split::ALL {
        let counts = desk.store.counts(split, &span).await?;
        let rows = counts.iter().map(|count| (key_in_words(&world, split, &count.key), cells(count)));
        tables.push((label(split), rows.collect::<Vec<_>>()));
    }
    let bytes = book(&tables).map_err(|_| Fault::Failed)?;
    let mime = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
    Ok(download(&format!("numbers-{from}-{until}.xlsx"), mime, bytes))
}

/// A row of counts: its name, then its cells.
type Row = (String, [String; 18]);

fn book(tables: &[(String, Vec<Row>)]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    for (name, rows) in tables {
        let sheet = book.add_worksheet();
        sheet.set_name(name)?;
        for (column, head) in [name.as_str()].into_iter().chain(COLUMNS).enumerate() {
            let head = said(&head.replace('_', " ")).into_owned();
            sheet.write_string(0, u16::try_from(column).unwrap_or(u16::MAX), head)?;
        }
        for (row, (key, cells)) in (1..).zip(rows) {
            sheet.write_string(row, 0, key)?;
            for (column, cell) in (1..).zip(cells) {
                match cell.parse::<f64>() {
                    Ok(number) => sheet.write_number(row, column, number)?,
                    Err(_) => sheet.write_string(row, column, cell)?,
                };
            }
        }
    }
    book.save_to_buffer()
}
