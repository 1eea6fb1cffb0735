//! A file that was chosen in a form.

use crate::error::PageError;
use axum::extract::Multipart;

/// The name and the bytes of the file that was chosen.
pub(crate) async fn file_of(mut form: Multipart) -> Result<(String, Vec<u8>), PageError> {
    let unread = |_| {
        PageError::Refused(
            "The file did not arrive whole. Choose it again; it may be 8 MB at most".to_owned(),
        )
    };
    while let Some(field) = form.next_field().await.map_err(unread)? {
        if field.name() == Some("file") {
            let name = field.file_name().unwrap_or("file").to_owned();
            let bytes = field.bytes().await.map_err(unread)?;
            if !bytes.is_empty() {
                return Ok((name, bytes.to_vec()));
            }
        }
    }
    Err(PageError::Refused(
        "No file was chosen, or it is empty. Go back and choose one".to_owned(),
    ))
}
