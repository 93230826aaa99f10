//! A list with its answers as a file. It is put together on the disk, batch by batch, and sent from there, so that its
//! length takes no memory and a fault on the way is a page that says so instead of half a file.

use std::fs::File;
use std::io::{BufWriter, Read, Seek};
use std::sync::Arc;

use axum::body::{Body, Bytes};
use axum::extract::{Path, State};
use axum::http::{HeaderValue, header};
use axum::response::Response;
use futures_util::stream::unfold;
use serde_json::json;
use tokio::task::spawn_blocking;
use uuid::Uuid;

use super::bring::no_disk;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::download;
use crate::desk::staff::taken::took_away;
use crate::desk::state::Desk;
use crate::many::Columns;
use crate::store::{BulkFilter, BulkRow};
use crate::table::{self, Cells, Kind, TableError, Writer};

/// Rows read at once.
const ROWS_AT_ONCE: i64 = 500;

/// Octets sent at once.
const PIECE: usize = 64 * 1024;

/// The list with its answers as a file.
pub async fn take_away(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path((id, file)): Path<(Uuid, String)>,
) -> Result<Response, Fault> {
    let list = desk.store.bulk_list(id).await?.ok_or(Fault::NotFound)?;
    let (kind, mime) = match file.as_str() {
        "answers.csv" => (Kind::Csv, "text/csv; charset=utf-8"),
        "answers.xlsx" => (Kind::Xlsx, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
        _ => return Err(Fault::NotFound),
    };
    took_away(&desk, &member, &format!("{id}: {file}")).await?;
    let columns: Arc<[String]> = serde_json::from_value::<Vec<String>>(list.columns).unwrap_or_default().into();
    let made = tempfile::tempfile().map_err(no_disk)?;
    let mut writer = Writer::new(kind, BufWriter::new(made)).map_err(|_| Fault::Failed)?;
    let mut filter = BulkFilter::default();
    loop {
        let rows = desk.store.bulk_rows(id, &filter, ROWS_AT_ONCE).await?;
        let Some(last) = rows.last() else { break };
        filter.after = last.n;
        let columns = Arc::clone(&columns);
        writer = blocking(move || {
            for row in rows {
                writer.write(&whole(&columns, row))?;
            }
            Ok(writer)
        })
        .await?;
    }
    let (made, length) = blocking(move || {
        let unwritable = |error: std::io::Error| TableError::Unwritable(error.to_string());
        let mut made = writer.finish()?.into_inner().map_err(|error| unwritable(error.into_error()))?;
        made.rewind().map_err(unwritable)?;
        let length = made.metadata().map_err(unwritable)?.len();
        Ok((made, length))
    })
    .await?;
    let mut response = download(&file, mime, body_of(made));
    response.headers_mut().insert(header::CONTENT_LENGTH, HeaderValue::from(length));
    Ok(response)
}

/// Work on a file, away from the threads that serve.
async fn blocking<T: Send + 'static>(work: impl FnOnce() -> Result<T, TableError> + Send + 'static) -> Result<T, Fault> {
    match spawn_blocking(work).await {
        Ok(Ok(done)) => Ok(done),
        Ok(Err(error)) => Err(Fault::Wrong(error.to_string())),
        Err(_) => Err(Fault::Failed),
    }
}

fn body_of(file: File) -> Body {
    Body::from_stream(unfold(Some(file), |file| async {
        let mut file = file?;
        let read = spawn_blocking(move || {
            let mut piece = Vec::with_capacity(PIECE);
            file.by_ref().take(PIECE as u64).read_to_end(&mut piece).map(|_| (piece, file))
        });
        match read.await.map_err(std::io::Error::other).and_then(|read| read) {
            Ok((piece, _)) if piece.is_empty() => None,
            Ok((piece, file)) => Some((Ok(Bytes::from(piece)), Some(file))),
            // The connection ends early, and the other end sees that the file is not whole.
            Err(error) => Some((Err(error), None)),
        }
    }))
}

fn whole(columns: &[String], row: BulkRow) -> Cells {
    let came = row.cells.as_object().cloned().unwrap_or_default();
    let cells: Cells = columns.iter().map(|name| (name.clone(), json!(table::plain(came.get(name))))).collect();
    let answer = Columns {
        reply: row.reply.as_deref(),
        parts: row.parts.and_then(|parts| usize::try_from(parts).ok()),
        verdict: row.verdict.as_deref(),
        water_m3_day: row.water_m3_day,
        area_m2: row.area_m2,
        error: row.problem.as_deref(),
    };
    answer.beside(cells)
}
