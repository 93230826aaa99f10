//! `POST /api/answers`: a JSON array or one object a line in, one object a line out, in the order they came, each sent as
//! soon as it is answered. No more than one object and one piece of the body is held at a time.

use std::collections::VecDeque;
use std::sync::Arc;

use axum::body::{Body, BodyDataStream, Bytes};
use axum::extract::State;
use axum::http::{HeaderMap, HeaderName, StatusCode, header};
use axum::response::{IntoResponse, Response};
use chrono::Utc;
use futures_util::StreamExt;
use futures_util::stream::unfold;
use serde_json::{Value, json};

use super::Desk;
use super::member::member_of;
use super::password::key_hash;
use crate::refusal::Refusal;
use crate::single::{self, Refused};
use crate::talk::Depth;
use crate::turn::World;

/// One object is no longer.
const OBJECT_MOST: usize = 64 * 1024;

pub async fn answer_all(State(desk): State<Arc<Desk>>, headers: HeaderMap, body: Body) -> Result<Response, Refusal> {
    let bearer = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok()?.strip_prefix("Bearer "));
    let is_known = match bearer {
        Some(key) => desk.store.is_key(&key_hash(key.trim())).await,
        None => member_of(&desk, &headers).await.map(|member| member.is_some()),
    };
    if !is_known.map_err(|_| Refusal::unavailable())? {
        let what = "Send a key as a bearer token (made by `noonwater key add NAME`), or sign in at the desk.";
        return Err(Refusal::new(StatusCode::UNAUTHORIZED, "not_signed_in", what));
    }
    let asked = Asking { world: desk.world(), body: body.into_data_stream(), cutter: Cutter::default(), is_over: false };
    let lines = unfold(asked, |mut asked| async move {
        let line = asked.next().await?;
        Some((Ok::<_, std::convert::Infallible>(Bytes::from(line)), asked))
    });
    let kind: [(HeaderName, &str); 2] =
        [(header::CONTENT_TYPE, "application/x-ndjson"), (header::CACHE_CONTROL, "no-store")];
    Ok((kind, Body::from_stream(lines)).into_response())
}

struct Asking {
    world: Arc<World>,
    body: BodyDataStream,
    cutter: Cutter,
    is_over: bool,
}

impl Asking {
    /// The next answer as a line.
    async fn next(&mut self) -> Option<String> {
        loop {
            if let Some(piece) = self.cutter.ready.pop_front() {
                let world = Arc::clone(&self.world);
                // The year of a set takes a processor for a while.
                let answered = tokio::task::spawn_blocking(move || answer(&world, piece)).await;
                let failed = || json!({"error": Refused::new("failed", "", "no answer could be made".to_owned()).json()});
                return Some(format!("{}\n", answered.unwrap_or_else(|_| failed())));
            }
            if self.is_over {
                return None;
            }
            match self.body.next().await {
                Some(Ok(bytes)) => self.is_over = !self.cutter.take(&bytes),
                Some(Err(_)) | None => {
                    self.cutter.end();
                    self.is_over = true;
                }
            }
        }
    }
}

fn answer(world: &World, piece: Result<Vec<u8>, &'static str>) -> Value {
    let bad = |reference: Value, refused: Refused| json!({"ref": reference, "error": refused.json()});
    let object = piece.map_err(str::to_owned).and_then(|bytes| {
        serde_json::from_slice::<Value>(&bytes).map_err(|error| format!("this is no JSON object ({error}); correct it"))
    });
    let object = match object {
        Ok(object) => object,
        Err(what) => return bad(Value::Null, Refused::new("unreadable", "", what)),
    };
    let reference = object["ref"].clone();
    let Some(text) = object["text"].as_str() else {
        return bad(reference, Refused::new("missing", "text", "text is missing; give the message as a string".to_owned()));
    };
    let told = |name: &str| object[name].as_str();
    match single::answer(world, text, told("lang"), told("place"), Depth::Answer, Utc::now()) {
        Err(refused) => bad(reference, refused),
        Ok(single) => {
            let mut line = json!({"ref": reference, "reply": single.reply.text});
            match single.advice.and_then(|advised| advised.json()) {
                Ok(advice) => line["advice"] = advice,
                Err(refused) => line["error"] = refused.json(),
            }
            line
        }
    }
}

/// Cuts a stream of bytes into its outermost objects, whether they stand in an array or one a line.
#[derive(Default)]
struct Cutter {
    piece: Vec<u8>,
    depth: usize,
    in_text: bool,
    is_escaped: bool,
    ready: VecDeque<Result<Vec<u8>, &'static str>>,
}

impl Cutter {
    /// Takes bytes; false when nothing more can be made of them.
    fn take(&mut self, bytes: &[u8]) -> bool {
        for &byte in bytes {
            if self.depth == 0 {
                match byte {
                    b'{' => {}
                    b'[' | b']' | b',' | b' ' | b'\t' | b'\r' | b'\n' => continue,
                    _ => {
                        self.ready.push_back(Err("send objects, in an array or one a line"));
                        return false;
                    }
                }
            }
            self.piece.push(byte);
            if self.piece.len() > OBJECT_MOST {
                self.ready.push_back(Err("an object is over 64 KiB; send less in one"));
                return false;
            }
            match byte {
                _ if self.is_escaped => self.is_escaped = false,
                b'\\' if self.in_text => self.is_escaped = true,
                b'"' => self.in_text = !self.in_text,
                b'{' if !self.in_text => self.depth += 1,
                b'}' if !self.in_text => {
                    self.depth -= 1;
                    if self.depth == 0 {
                        self.ready.push_back(Ok(std::mem::take(&mut self.piece)));
                    }
                }
                _ => {}
            }
        }
        true
    }

    /// The bytes are over.
    fn end(&mut self) {
        if !self.piece.is_empty() {
            self.ready.push_back(Err("the last object is cut off; send it whole"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str, size: usize) -> Vec<Result<String, &'static str>> {
        let mut cutter = Cutter::default();
        let goes_on = text.as_bytes().chunks(size).all(|bytes| cutter.take(bytes));
        if goes_on {
            cutter.end();
        }
        cutter.ready.into_iter().map(|piece| piece.map(|bytes| String::from_utf8(bytes).unwrap())).collect()
    }

    #[test]
    fn objects_are_cut_wherever_the_pieces_of_the_body_end() {
        let objects = [r#"{"a":"}{\"\\"}"#, r#"{"b":{"c":[1,{}]}}"#];
        for text in [format!("[{},\n {}]", objects[0], objects[1]), format!("{}\n{}\n", objects[0], objects[1])] {
            for size in 1..text.len() {
                assert_eq!(cut(&text, size), objects.map(|object| Ok(object.to_owned())), "{size}");
            }
        }
        assert!(cut("{\"a\":1", 3)[0].is_err() && cut("{} x", 1)[1].is_err());
        assert!(cut(&format!("{{\"a\":\"{}\"}}", "x".repeat(OBJECT_MOST)), 4096)[0].is_err());
    }
}
