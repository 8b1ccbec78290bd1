//! Says that the program runs; on the athletes' door nothing else, so that nothing can leak.

use std::net::SocketAddr;
use std::path::Path;
use std::time::Duration;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

use crate::hex::hex;
use crate::state::AppState;

/// By this header a second start knows that the first one has the same data file.
const DATA: &str = "ebbline-data";

/// How long a second start waits for the first one's answer.
const PATIENCE: Duration = Duration::from_secs(2);

/// Answers on both doors.
pub(crate) async fn get() -> Response {
    (StatusCode::OK, [("content-type", "text/plain; charset=utf-8")], "ok\n").into_response()
}

/// Answers on the coach's door, with a digest of the data file's path.
pub(crate) async fn get_coach(State(state): State<AppState>) -> Response {
    ([(DATA, digest(&state.data))], get().await).into_response()
}

/// Whether an Ebbline with the same data file answers at an address.
pub async fn answers(address: SocketAddr, data: &Path) -> bool {
    let wanted = format!("{DATA}: {}", digest(data));
    let asked = tokio::time::timeout(PATIENCE, ask(address)).await;
    asked.is_ok_and(|answer| answer.is_ok_and(|text| text.lines().any(|line| line.eq_ignore_ascii_case(&wanted))))
}

async fn ask(address: SocketAddr) -> std::io::Result<String> {
    let mut stream = TcpStream::connect(address).await?;
    let request = format!("GET {} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n", crate::paths::HEALTH);
    stream.write_all(request.as_bytes()).await?;
    let mut answer = Vec::new();
    stream.take(16 * 1024).read_to_end(&mut answer).await?;
    Ok(String::from_utf8_lossy(&answer).into_owned())
}

/// The same for every way of writing the path of one file.
fn digest(data: &Path) -> String {
    let path = std::fs::canonicalize(data).unwrap_or_else(|_| data.to_owned());
    hex(&Sha256::digest(path.as_os_str().as_encoded_bytes())[..8])
}
