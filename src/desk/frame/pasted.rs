//! A file that was chosen, or its text pasted.

use axum::extract::Multipart;

use crate::desk::frame::fault::Fault;

/// What the form brought: the chosen file's text, or else the pasted one.
pub async fn pasted(mut form: Multipart) -> Result<String, Fault> {
    let unread = |_| Fault::Wrong("The form could not be read or is too large; send a file of at most 1 MB.".to_owned());
    let (mut file, mut text) = (Vec::new(), String::new());
    while let Some(field) = form.next_field().await.map_err(unread)? {
        match field.name() {
            Some("file") => file = field.bytes().await.map_err(unread)?.to_vec(),
            Some("text") => text = field.text().await.map_err(unread)?,
            _ => {}
        }
    }
    let text = if file.is_empty() { text } else { String::from_utf8_lossy(&file).into_owned() };
    // PostgreSQL holds no NUL.
    Ok(text.replace('\0', ""))
}
