//! Where the talk with each number stands, in a form with a version.

use chrono::{DateTime, Utc};
use serde_json::Value;

use crate::store::error::StoreError;
use crate::store::handle::Step;
use crate::talk::Talk;

/// The stored form of a talk: what the core calls a talk today, under the number of its form.
#[derive(Debug, PartialEq)]
pub struct TalkForm {
    pub form: i32,
    pub talk: Value,
}

/// The form that this program writes.
const NEWEST_FORM: i32 = 2;

impl TalkForm {
    pub fn write(talk: &Talk) -> Result<Self, StoreError> {
        let talk = serde_json::to_value(talk).map_err(|_| StoreError::UnreadableTalk)?;
        Ok(Self { form: NEWEST_FORM, talk })
    }

    /// Reads this form and every older one. A form that changes gets the next number, and its upgrade a step here.
    pub fn read(mut self) -> Result<Talk, StoreError> {
        if self.form == 1 {
            tests_beside_the_sheet(&mut self.talk);
            self.form = 2;
        }
        match self.form {
            NEWEST_FORM => serde_json::from_value(self.talk).map_err(|_| StoreError::UnreadableTalk),
            newer if newer > NEWEST_FORM => Err(StoreError::NewerTalk(newer)),
            _ => Err(StoreError::UnreadableTalk),
        }
    }
}

/// Form 1 kept the bucket tests inside the sheet; form 2 keeps them beside it.
fn tests_beside_the_sheet(talk: &mut Value) {
    let Some(known) = talk.get_mut("known").and_then(Value::as_object_mut) else { return };
    let tests = known.get_mut("sheet").and_then(Value::as_object_mut).and_then(|sheet| sheet.remove("tests"));
    if let Some(tests) = tests {
        known.insert("tests".to_owned(), tests);
    }
}

impl Step<'_> {
    /// The talk of a number, a new one for a new number, locked until this step ends: messages of one number are
    /// answered one after the other, each seeing what the one before left.
    pub async fn lock_talk(&mut self, number: &str, now: DateTime<Utc>) -> Result<Talk, StoreError> {
        let new = TalkForm::write(&Talk::default())?;
        let (form, talk): (i32, Value) = sqlx::query_as(
            "insert into talk (number, form, talk, updated_at) values ($1, $2, $3, $4)
             on conflict (number) do update set updated_at = excluded.updated_at
             returning form, talk",
        )
        .bind(number)
        .bind(new.form)
        .bind(new.talk)
        .bind(now)
        .fetch_one(self.opened.on())
        .await?;
        TalkForm { form, talk }.read()
    }

    pub async fn save_talk(&mut self, number: &str, talk: &Talk) -> Result<(), StoreError> {
        let row = TalkForm::write(talk)?;
        sqlx::query("update talk set form = $2, talk = $3, stopped = $4 where number = $1")
            .bind(number)
            .bind(row.form)
            .bind(row.talk)
            .bind(talk.stopped)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A row as form 1 wrote it. It stays as it is for ever: a change that cannot read it needs form 2.
    const FORM_1: &str = r#"{ "stopped": true }"#;

    #[test]
    fn a_row_of_form_1_is_still_read() {
        let row = TalkForm { form: 1, talk: serde_json::from_str(FORM_1).unwrap() };
        assert!(row.read().unwrap().stopped);
    }

    #[test]
    fn the_bucket_tests_of_form_1_are_not_lost() {
        let talk = serde_json::json!({ "known": { "sheet": { "lift_m": 3.0, "tests": [
            { "litres": 75.0, "seconds": 40.0, "outlet_m": 3.0, "at": "2026-09-10T09:00:00Z", "sky": "clear" },
        ] } } });
        let known = TalkForm { form: 1, talk }.read().unwrap().known;
        assert_eq!((known.sheet.lift_m, known.tests[0].litres), (Some(3.0), 75.0));
    }

    #[test]
    fn what_is_written_is_read_back() {
        let talk = Talk { stopped: true, ..Talk::default() };
        assert_eq!(TalkForm::write(&talk).unwrap().read().unwrap(), talk);
    }

    #[test]
    fn a_newer_form_is_refused_and_not_lost() {
        let row = TalkForm { form: 99, talk: Value::Null };
        assert!(matches!(row.read(), Err(StoreError::NewerTalk(99))));
    }
}
