//! A list with its answers as a file.

use std::io::Cursor;
use std::sync::Arc;

use axum::extract::{Path, State};
use axum::response::Response;
use serde_json::json;
use uuid::Uuid;

use crate::desk::Desk;
use crate::desk::fault::Fault;
use crate::desk::member::Member;
use crate::desk::page::download;
use crate::store::{BulkFilter, BulkRow};
use crate::table::{self, Cells, Kind, Writer};

/// The list with its answers as a file.
pub async fn take_away(
    State(desk): State<Arc<Desk>>,
    _member: Member,
    Path((id, file)): Path<(Uuid, String)>,
) -> Result<Response, Fault> {
    let list = desk.store.bulk_list(id).await?.ok_or(Fault::NotFound)?;
    let (kind, mime) = match file.as_str() {
        "answers.csv" => (Kind::Csv, "text/csv; charset=utf-8"),
        "answers.xlsx" => (Kind::Xlsx, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
        _ => return Err(Fault::NotFound),
    };
    let columns: Vec<String> = serde_json::from_value(list.columns).unwrap_or_default();
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = Writer::new(kind, &mut bytes).map_err(|_| Fault::Failed)?;
    let mut filter = BulkFilter::default();
    loop {
        let rows = desk.store.bulk_rows(id, &filter, 1000).await?;
        let Some(last) = rows.last() else { break };
        filter.after = last.n;
        for row in rows {
            writer.write(&whole(&columns, row)).map_err(|_| Fault::Failed)?;
        }
    }
    writer.finish().map_err(|_| Fault::Failed)?;
    Ok(download(&file, mime, bytes.into_inner()))
}

fn whole(columns: &[String], row: BulkRow) -> Cells {
    let came = row.cells.as_object().cloned().unwrap_or_default();
    let mut cells: Cells = columns.iter().map(|name| (name.clone(), json!(table::plain(came.get(name))))).collect();
    let answer = [
        ("reply", json!(row.reply)),
        ("parts", json!(row.parts)),
        ("verdict", json!(row.verdict)),
        ("water_m3_day", json!(row.water_m3_day.map(|value| (value * 100.0).round() / 100.0))),
        ("area_m2", json!(row.area_m2.map(f64::round))),
        ("error", json!(row.problem)),
    ];
    for (name, value) in answer {
        let name = if cells.contains_key(name) { format!("{name} (answer)") } else { name.to_owned() };
        cells.insert(name, value);
    }
    cells
}
