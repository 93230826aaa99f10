//! What the service counts of itself while it runs, for programs that watch it: the text form that Prometheus reads
//! (exposition format 0.0.4). Counts begin at nought with the process, as such programs expect. No number and no text is ever
//! a label.

use std::sync::OnceLock;
use std::time::Duration;

use axum::response::Response;
use metrics::{Unit, counter, describe_counter, describe_histogram, histogram};
use metrics_exporter_prometheus::{Matcher, PrometheusBuilder, PrometheusHandle};

static HANDLE: OnceLock<PrometheusHandle> = OnceLock::new();

/// Upper bounds of the time that an answer took, s: a menu's network waits two seconds.
const ANSWER_S: [f64; 10] = [0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 1.7, 5.0, 15.0];

/// Begins to count; what was counted before is nowhere. A process that nobody watches need not.
pub fn start() {
    let builder = PrometheusBuilder::new();
    let Ok(builder) = builder.set_buckets_for_metric(Matcher::Full("noonwater_answer_seconds".to_owned()), &ANSWER_S)
    else {
        return;
    };
    // An error means that somebody else counts already.
    let Ok(handle) = builder.install_recorder() else { return };
    describe_counter!("noonwater_messages_total", "Messages that came in.");
    describe_counter!("noonwater_messages_to_person_total", "Messages that went to staff.");
    describe_counter!("noonwater_tries_total", "Tries to send a message, by line and by what came of it.");
    describe_counter!("noonwater_receipts_total", "Receipts, by what they say became of a message at the phone.");
    describe_counter!("noonwater_requests_refused_total", "Requests of lines and machines that were refused, by status.");
    describe_histogram!("noonwater_answer_seconds", Unit::Seconds, "Time from a message to its stored reply.");
    describe_counter!("noonwater_sign_ins_total", "Tries to sign in at the desk, by what came of them.");
    for outcome in ["right", "wrong", "put_off"] {
        counter!("noonwater_sign_ins_total", "outcome" => outcome).increment(0);
    }
    counter!("noonwater_messages_total").increment(0);
    counter!("noonwater_messages_to_person_total").increment(0);
    for status in ["401", "429", "503"] {
        counter!("noonwater_requests_refused_total", "status" => status).increment(0);
    }
    for status in ["delivered", "failed", "expired"] {
        counter!("noonwater_receipts_total", "status" => status).increment(0);
    }
    let _ = HANDLE.set(handle);
}

/// All that was counted.
pub fn text() -> String {
    let Some(handle) = HANDLE.get() else { return String::new() };
    handle.run_upkeep();
    handle.render()
}

pub fn answered(took: Duration, to_person: bool) {
    counter!("noonwater_messages_total").increment(1);
    counter!("noonwater_messages_to_person_total").increment(u64::from(to_person));
    histogram!("noonwater_answer_seconds").record(took.as_secs_f64());
}

/// `outcome` is taken, refused, slow_down, failed or stopped.
pub fn tried(line: &str, outcome: &'static str) {
    counter!("noonwater_tries_total", "line" => line.to_owned(), "outcome" => outcome).increment(1);
}

/// `outcome` is right, wrong or put_off.
pub fn signed_in(outcome: &'static str) {
    counter!("noonwater_sign_ins_total", "outcome" => outcome).increment(1);
}

pub fn receipt(status: &'static str) {
    counter!("noonwater_receipts_total", "status" => status).increment(1);
}

/// Counts a response that refuses its request, and passes it on.
pub async fn count_refusal(response: Response) -> Response {
    let status = response.status();
    if status.is_client_error() || status.is_server_error() {
        counter!("noonwater_requests_refused_total", "status" => status.as_str().to_owned()).increment(1);
    }
    response
}
