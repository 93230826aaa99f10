//! The other end of a line.

use std::sync::{Arc, Mutex};
use std::time::Instant;

use axum::Router;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::header::RETRY_AFTER;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::post;
use serde_json::Value;
use tokio::sync::watch;

use super::DEADLINE;

/// What the gateway does with a call.
#[derive(Clone, Copy)]
pub enum Answer {
    Status(u16),
    /// 429, to be tried again after so many seconds.
    SlowDown(u64),
    /// Never answers, until `release` is called.
    Hold,
}

/// One call as it came in.
#[derive(Clone)]
pub struct Call {
    pub at: Instant,
    pub headers: HeaderMap,
    pub raw: Vec<u8>,
    pub body: Value,
}

impl Call {
    pub fn id(&self) -> &str {
        self.body["id"].as_str().expect("an id")
    }

    pub fn to(&self) -> &str {
        self.body["to"].as_str().expect("a number")
    }

    #[allow(dead_code, reason = "not every test program reads what was said")]
    pub fn text(&self) -> &str {
        self.body["text"].as_str().unwrap_or_default()
    }
}

type Script = Box<dyn Fn(usize, &Value) -> Answer + Send + Sync>;

struct Shared {
    script: Mutex<Script>,
    calls: watch::Sender<Vec<Call>>,
    released: watch::Sender<bool>,
}

pub struct Gateway {
    pub url: String,
    shared: Arc<Shared>,
}

impl Gateway {
    /// Answers each call as the script says from how many came before it and what it carries.
    pub async fn start(script: impl Fn(usize, &Value) -> Answer + Send + Sync + 'static) -> Self {
        let shared = Arc::new(Shared {
            script: Mutex::new(Box::new(script)),
            calls: watch::Sender::new(Vec::new()),
            released: watch::Sender::new(false),
        });
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let url = format!("http://{}/out", listener.local_addr().expect("an address"));
        let app = Router::new().route("/out", post(take)).with_state(Arc::clone(&shared));
        tokio::spawn(async move { axum::serve(listener, app).await });
        Self { url, shared }
    }

    pub async fn accepting() -> Self {
        Self::start(|_, _| Answer::Status(200)).await
    }

    pub fn now_accepts(&self) {
        *self.shared.script.lock().expect("the script") = Box::new(|_, _| Answer::Status(200));
    }

    /// Answers every call that was held.
    pub fn release(&self) {
        self.shared.released.send_replace(true);
    }

    pub fn calls(&self) -> Vec<Call> {
        self.shared.calls.borrow().clone()
    }

    /// The calls once they are as wished.
    pub async fn wait(&self, what: &str, wished: impl FnMut(&Vec<Call>) -> bool) -> Vec<Call> {
        let mut calls = self.shared.calls.subscribe();
        let waited = tokio::time::timeout(DEADLINE, calls.wait_for(wished)).await;
        match waited {
            Ok(Ok(calls)) => calls.clone(),
            _ => panic!("still waiting until {what}; {} calls came", self.calls().len()),
        }
    }
}

async fn take(State(shared): State<Arc<Shared>>, headers: HeaderMap, raw: Bytes) -> Response {
    let body: Value = serde_json::from_slice(&raw).expect("JSON");
    let before = shared.calls.borrow().len();
    let answer = shared.script.lock().expect("the script")(before, &body);
    shared.calls.send_modify(|calls| calls.push(Call { at: Instant::now(), headers, raw: raw.to_vec(), body }));
    match answer {
        Answer::Status(status) => StatusCode::from_u16(status).expect("a status").into_response(),
        Answer::SlowDown(seconds) => (StatusCode::TOO_MANY_REQUESTS, [(RETRY_AFTER, seconds.to_string())]).into_response(),
        Answer::Hold => {
            let _ = shared.released.subscribe().wait_for(|released| *released).await;
            StatusCode::OK.into_response()
        }
    }
}
