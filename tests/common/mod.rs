//! A real service on a real private PostgreSQL, and a gateway on loopback that reads what it sends.

mod gateway;
mod service;

pub use gateway::{Answer, Call, Gateway};
pub use service::{Folder, Service, peak_kib, program, run_to_end, run_with};

use std::future::Future;
use std::time::Duration;

use serde_json::{Value, json};

/// Far longer than anything takes; a test that reaches it has failed.
pub const DEADLINE: Duration = Duration::from_secs(60);

/// The shared secret of the line `north`.
pub const SECRET: &str = "kito-valley-secret";

/// The hotline's own number in the tests.
pub const HOTLINE: &str = "+447700900100";

/// Configuration of one gateway line.
pub fn line(name: &str, outbound_url: &str) -> String {
    format!(
        "[lines.{name}]\nkind = \"http\"\nnumber = \"{HOTLINE}\"\noutbound_url = \"{outbound_url}\"\n\
         secret = \"{SECRET}\"\n"
    )
}

/// A number of the range set aside for fiction.
pub fn number(index: u32) -> String {
    format!("+447700{:06}", 900_000 + index % 1000)
}

pub fn message(id: &str, from: &str, text: &str) -> Value {
    json!({ "id": id, "from": from, "to": HOTLINE, "text": text })
}

/// Asks again and again until there is an answer.
pub async fn eventually<T, F: Future<Output = Option<T>>>(what: &str, mut ask: impl FnMut() -> F) -> T {
    let answer = tokio::time::timeout(DEADLINE, async {
        loop {
            if let Some(answer) = ask().await {
                return answer;
            }
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
    });
    answer.await.unwrap_or_else(|_| panic!("still waiting until {what}"))
}
