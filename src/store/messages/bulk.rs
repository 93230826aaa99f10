//! Lists of many messages, one state a row.

use chrono::{DateTime, Utc};
use serde_json::Value;
use sqlx::FromRow;
use uuid::Uuid;

use crate::sending::Priority;
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A list to be made.
pub struct NewBulkList<'a> {
    pub id: Uuid,
    pub name: &'a str,
    pub staff: &'a str,
    pub created_at: DateTime<Utc>,
    pub language: Option<&'a str>,
    pub place: Option<&'a str>,
}

/// A row to be made. No `Debug`: it holds a number and a text.
pub struct NewBulkRow {
    pub cells: Value,
    pub text: String,
    pub number: Option<String>,
    /// A number was told that cannot be one.
    pub is_rejected: bool,
    pub language: Option<String>,
    pub place: Option<String>,
}

/// A list as it stands.
#[derive(Debug, Clone, FromRow)]
pub struct BulkList {
    pub id: Uuid,
    pub name: String,
    pub staff: String,
    pub created_at: DateTime<Utc>,
    /// None while its preview is looked at.
    pub started_at: Option<DateTime<Utc>>,
    pub columns: Value,
    pub language: Option<String>,
    pub place: Option<String>,
    /// What was seen of the file's form.
    pub notes: Value,
    pub stopped_at: Option<DateTime<Utc>>,
    /// Who asked for it to be sent, by which line, how many messages and of which verdict, while another account's word is
    /// waited for.
    pub asked_by: Option<Uuid>,
    pub asked_line: Option<String>,
    pub asked_count: Option<i64>,
    pub asked_verdict: Option<String>,
}

/// The columns of a list.
const LIST: &str = "id, name, staff, created_at, started_at, columns, language, place, notes, stopped_at, \
                    asked_by, asked_line, asked_count, asked_verdict";

/// How far a list has come.
#[derive(Debug, Clone, Copy, Default, FromRow)]
pub struct BulkCounts {
    pub rows: i64,
    pub done: i64,
    pub enough: i64,
    pub tight: i64,
    pub short: i64,
    pub trouble: i64,
    pub sent: i64,
}

/// A row to answer. No `Debug`, as above.
#[derive(FromRow)]
pub struct BulkWork {
    pub list: Uuid,
    pub n: i32,
    pub text: String,
    pub language: Option<String>,
    pub place: Option<String>,
}

/// What a row was answered.
#[derive(Default)]
pub struct BulkAnswer {
    pub reply: Option<String>,
    pub encoding: Option<&'static str>,
    pub parts: Option<i32>,
    pub verdict: Option<&'static str>,
    pub water_m3_day: Option<f64>,
    pub area_m2: Option<f64>,
    /// The code of the trouble, and a sentence about it.
    pub trouble: Option<String>,
    pub problem: Option<String>,
}

/// A row as it stands. No `Debug`, as above.
#[derive(FromRow)]
pub struct BulkRow {
    pub n: i32,
    pub cells: Value,
    pub text: String,
    pub number: Option<String>,
    pub state: String,
    pub reply: Option<String>,
    pub encoding: Option<String>,
    pub parts: Option<i32>,
    pub verdict: Option<String>,
    pub water_m3_day: Option<f64>,
    pub area_m2: Option<f64>,
    pub trouble: Option<String>,
    pub problem: Option<String>,
    pub sent: Option<Uuid>,
    /// How far the message that was sent has come.
    pub sent_state: Option<String>,
    pub number_note: Option<String>,
}

/// Which rows of a list.
#[derive(Debug, Clone, Default)]
pub struct BulkFilter {
    pub verdict: Option<String>,
    pub trouble: bool,
    /// Rows after this one.
    pub after: i32,
}

/// Rows that can be sent: answered, without trouble, not sent before.
pub(super) const SENDABLE: &str = "state = 'done' and sent is null and reply is not null and trouble is null";

impl Step<'_> {
    pub async fn add_bulk_list(&mut self, list: &NewBulkList<'_>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into bulk_list (id, name, staff, created_at, columns, language, place)
             values ($1, $2, $3, $4, '[]', $5, $6)",
        )
        .bind(list.id)
        .bind(list.name)
        .bind(list.staff)
        .bind(list.created_at)
        .bind(list.language)
        .bind(list.place)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// Names the columns of a list and what was seen of its form, which are known when all its rows are; a number that stands
    /// in an earlier row is flagged.
    pub async fn set_bulk_columns(&mut self, list: Uuid, columns: &Value, notes: &Value) -> Result<(), StoreError> {
        sqlx::query("update bulk_list set columns = $2, notes = $3 where id = $1")
            .bind(list)
            .bind(columns)
            .bind(notes)
            .execute(self.opened.on())
            .await?;
        sqlx::query(
            "update bulk_row set number_note = 'twice'
             from (select number, min(n) as first from bulk_row where list = $1 and number is not null group by number
                   having count(*) > 1) known
             where list = $1 and bulk_row.number = known.number and n > known.first",
        )
        .bind(list)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// Adds rows to a list, the first of them numbered `from`; gives the number of the next.
    pub async fn add_bulk_rows(&mut self, list: Uuid, from: i32, rows: &[NewBulkRow]) -> Result<i32, StoreError> {
        let cells: Vec<Value> = rows.iter().map(|row| row.cells.clone()).collect();
        let of = |get: fn(&NewBulkRow) -> &Option<String>| -> Vec<Option<String>> {
            rows.iter().map(|row| get(row).clone()).collect()
        };
        sqlx::query(
            "insert into bulk_row (list, n, cells, text, number, language, place, number_note)
             select $1, $2 + ordinality - 1, cells, text, number, language, place, case when rejected then 'rejected' end
             from unnest($3::jsonb[], $4::text[], $5::text[], $6::text[], $7::text[], $8::bool[])
                  with ordinality as t(cells, text, number, language, place, rejected, ordinality)",
        )
        .bind(list)
        .bind(from)
        .bind(cells)
        .bind(rows.iter().map(|row| row.text.clone()).collect::<Vec<_>>())
        .bind(of(|row| &row.number))
        .bind(of(|row| &row.language))
        .bind(of(|row| &row.place))
        .bind(rows.iter().map(|row| row.is_rejected).collect::<Vec<_>>())
        .execute(self.opened.on())
        .await?;
        let next = i32::try_from(rows.len()).ok().and_then(|added| from.checked_add(added));
        next.ok_or_else(|| StoreError::Refused("too many rows".to_owned()))
    }

    /// Lets a list be answered; false when it was already.
    pub async fn start_bulk_list(&mut self, list: Uuid, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let done = sqlx::query("update bulk_list set started_at = $2 where id = $1 and started_at is null")
            .bind(list)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Takes up to `limit` rows that wait, of the oldest list that has any; nobody else gets them until this step ends.
    pub async fn take_bulk_rows(&mut self, limit: i64) -> Result<Vec<BulkWork>, StoreError> {
        Ok(sqlx::query_as(
            "select bulk_row.list, n, text, coalesce(bulk_row.language, bulk_list.language) as language,
                    coalesce(bulk_row.place, bulk_list.place) as place
             from bulk_row join bulk_list on bulk_list.id = bulk_row.list
             where state = 'waiting' and bulk_row.list = (
                 select id from bulk_list oldest
                 where started_at is not null and stopped_at is null
                   and exists (select 1 from bulk_row waits where waits.list = oldest.id and waits.state = 'waiting')
                 order by created_at limit 1
             )
             order by n limit $1 for update of bulk_row skip locked",
        )
        .bind(limit)
        .fetch_all(self.opened.on())
        .await?)
    }

    /// Keeps what rows were answered.
    pub async fn bulk_rows_done(&mut self, done: &[(Uuid, i32, BulkAnswer)]) -> Result<(), StoreError> {
        let texts = |get: fn(&BulkAnswer) -> Option<&str>| -> Vec<Option<&str>> {
            done.iter().map(|(.., answer)| get(answer)).collect()
        };
        let numbers = |get: fn(&BulkAnswer) -> Option<f64>| -> Vec<Option<f64>> {
            done.iter().map(|(.., answer)| get(answer)).collect()
        };
        sqlx::query(
            "update bulk_row set state = 'done', reply = t.reply, encoding = t.encoding, parts = t.parts,
                    verdict = t.verdict, water_m3_day = t.water_m3_day, area_m2 = t.area_m2, trouble = t.trouble,
                    problem = t.problem
             from unnest($1::uuid[], $2::int[], $3::text[], $4::text[], $5::int[], $6::text[], $7::float8[], $8::float8[],
                         $9::text[], $10::text[])
                  as t(list, n, reply, encoding, parts, verdict, water_m3_day, area_m2, trouble, problem)
             where bulk_row.list = t.list and bulk_row.n = t.n",
        )
        .bind(done.iter().map(|(list, ..)| *list).collect::<Vec<_>>())
        .bind(done.iter().map(|(_, n, _)| *n).collect::<Vec<_>>())
        .bind(texts(|answer| answer.reply.as_deref()))
        .bind(texts(|answer| answer.encoding))
        .bind(done.iter().map(|(.., answer)| answer.parts).collect::<Vec<_>>())
        .bind(texts(|answer| answer.verdict))
        .bind(numbers(|answer| answer.water_m3_day))
        .bind(numbers(|answer| answer.area_m2))
        .bind(texts(|answer| answer.trouble.as_deref()))
        .bind(texts(|answer| answer.problem.as_deref()))
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// Gives a row another text, to be answered anew; false when it has been sent.
    pub async fn mend_bulk_row(&mut self, list: Uuid, n: i32, text: &str) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "update bulk_row set text = $3, state = 'waiting', reply = null, encoding = null, parts = null,
                    verdict = null, water_m3_day = null, area_m2 = null, trouble = null, problem = null
             where list = $1 and n = $2 and sent is null",
        )
        .bind(list)
        .bind(n)
        .bind(text)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Queues every row that can be sent to its number, but not to numbers that have opted out; says how many.
    pub async fn send_bulk(
        &mut self,
        list: Uuid,
        verdict: Option<&str>,
        (line, hotline): (&str, &str),
        now: DateTime<Utc>,
    ) -> Result<u64, StoreError> {
        let done = sqlx::query(sqlx::AssertSqlSafe(format!(
            "with chosen as (
                 select n, gen_random_uuid() as id, number, reply, encoding, parts from bulk_row
                 where list = $1 and number is not null and {SENDABLE} and ($6::text is null or verdict = $6)
                   and not exists (select 1 from talk where talk.number = bulk_row.number
                                   and talk.stopped)
                 order by n for update
             ), queued as (
                 insert into outbox (id, line, sender, recipient, body, encoding, parts, created_at, updated_at)
                 select id, $2, $3, number, reply, encoding, parts, $4, $4 from chosen order by n returning id, seq, recipient
             ), sends as (
                 insert into sending (id, seq, line, recipient, priority, due_at, since)
                 select id, seq, $2, recipient, $5, now(), now() from queued
             )
             update bulk_row set sent = chosen.id from chosen
             where bulk_row.list = $1 and bulk_row.n = chosen.n"
        )))
        .bind(list)
        .bind(line)
        .bind(hotline)
        .bind(now)
        .bind(Priority::List.rank())
        .bind(verdict)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected())
    }
}

impl Store {
    /// The newest lists.
    pub async fn bulk_lists(&self, limit: i64) -> Result<Vec<BulkList>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("select {LIST} from bulk_list order by created_at desc limit $1")))
            .bind(limit)
            .fetch_all(&self.database)
            .await?)
    }

    pub async fn bulk_list(&self, list: Uuid) -> Result<Option<BulkList>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("select {LIST} from bulk_list where id = $1")))
            .bind(list)
            .fetch_optional(&self.database)
            .await?)
    }

    pub async fn bulk_counts(&self, list: Uuid) -> Result<BulkCounts, StoreError> {
        Ok(sqlx::query_as(
            "select count(*) as rows, count(*) filter (where state = 'done') as done,
                    count(*) filter (where verdict = 'enough') as enough,
                    count(*) filter (where verdict = 'tight') as tight,
                    count(*) filter (where verdict = 'short') as short,
                    count(*) filter (where trouble is not null) as trouble, count(sent) as sent
             from bulk_row where list = $1",
        )
        .bind(list)
        .fetch_one(&self.database)
        .await?)
    }

    /// Rows of a list in order.
    pub async fn bulk_rows(&self, list: Uuid, filter: &BulkFilter, limit: i64) -> Result<Vec<BulkRow>, StoreError> {
        Ok(sqlx::query_as(
            "select n, cells, text, number, bulk_row.state, reply, bulk_row.encoding, bulk_row.parts, verdict, water_m3_day,
                    area_m2, trouble, problem, sent, outbox.state as sent_state, number_note
             from bulk_row left join outbox on outbox.id = bulk_row.sent
             where list = $1 and n > $2 and ($3::text is null or verdict = $3) and (not $4 or trouble is not null)
             order by n limit $5",
        )
        .bind(list)
        .bind(filter.after)
        .bind(&filter.verdict)
        .bind(filter.trouble)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }
}
