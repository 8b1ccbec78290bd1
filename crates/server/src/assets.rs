//! Style sheets, scripts and pictures, embedded in the binary.
//!
//! Their address carries a digest of all of them, so that a browser may keep them for ever and
//! still sees a new version at once; relative imports between scripts keep working.

use std::sync::OnceLock;

use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;
use sha2::{Digest, Sha256};

use crate::hex::hex;

#[derive(RustEmbed)]
#[folder = "../../static"]
struct Files;

/// Sixteen hex digits that change whenever any file does.
pub(crate) fn digest() -> &'static str {
    static DIGEST: OnceLock<String> = OnceLock::new();
    DIGEST.get_or_init(|| {
        let mut names: Vec<_> = Files::iter().collect();
        names.sort();
        let mut hash = Sha256::new();
        for name in names {
            hash.update(name.as_bytes());
            if let Some(file) = Files::get(&name) {
                hash.update(file.metadata.sha256_hash());
            }
        }
        hex(&hash.finalize()[..8])
    })
}

/// The text of an embedded file, for pages that must stand alone.
pub(crate) fn text(file: &str) -> Option<String> {
    Files::get(file).and_then(|file| String::from_utf8(file.data.into_owned()).ok())
}

/// Every embedded file, on the coach's door.
pub(crate) async fn get(Path((asked, file)): Path<(String, String)>) -> Response {
    serve(&asked, &file)
}

/// Style sheets and pictures only: the athletes' door has no scripts.
pub(crate) async fn get_shared(Path((asked, file)): Path<(String, String)>) -> Response {
    if file.starts_with("css/") || file.starts_with("icons/") {
        serve(&asked, &file)
    } else {
        StatusCode::NOT_FOUND.into_response()
    }
}

fn serve(asked: &str, file: &str) -> Response {
    let Some(found) = Files::get(file).filter(|_| asked == digest()) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let mut headers = HeaderMap::new();
    if let Ok(kind) = HeaderValue::from_str(&content_type(found.metadata.mimetype())) {
        headers.insert(CONTENT_TYPE, kind);
    }
    // While developing, files are read from disk and change under an unchanged digest.
    let keep = if cfg!(debug_assertions) { "no-cache" } else { "public, max-age=31536000, immutable" };
    headers.insert(CACHE_CONTROL, HeaderValue::from_static(keep));
    (headers, found.data.into_owned()).into_response()
}

fn content_type(mime: &str) -> String {
    if mime.starts_with("text/") { format!("{mime}; charset=utf-8") } else { mime.to_owned() }
}
