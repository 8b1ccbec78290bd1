//! A browser of a few lines: one request, one answer. By hand, because the program is killed under it: an answer
//! of which only the head came counts as one.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::time::Duration;

/// What came back.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) location: String,
    pub(crate) body: String,
}

/// A page; nothing where the program is not there any more.
pub(crate) fn get(address: SocketAddr, path: &str) -> Option<Answer> {
    ask(address, &format!("GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n"))
}

/// A form from one of our own pages; nothing where no whole answer came.
pub(crate) fn post(address: SocketAddr, path: &str, fields: &[(&str, &str)]) -> Option<Answer> {
    let body = fields.iter().map(|(name, value)| format!("{name}={}", encode(value))).collect::<Vec<_>>().join("&");
    ask(
        address,
        &format!(
            "POST {path} HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nSec-Fetch-Site: same-origin\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            body.len()
        ),
    )
}

fn ask(address: SocketAddr, request: &str) -> Option<Answer> {
    let mut stream = TcpStream::connect(address).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(40))).ok()?;
    stream.write_all(request.as_bytes()).ok()?;
    let mut answer = Vec::new();
    // A connection that breaks off in the middle may have brought the head already: that counts.
    let _ = stream.read_to_end(&mut answer);
    let text = String::from_utf8_lossy(&answer);
    let (head, body) = text.split_once("\r\n\r\n")?;
    let status = head.split(' ').nth(1)?.parse().ok()?;
    let location = head.lines().find_map(|line| line.strip_prefix("location: ")).unwrap_or_default();
    Some(Answer { status, location: location.to_owned(), body: body.to_owned() })
}

fn encode(text: &str) -> String {
    text.bytes()
        .map(|byte| if byte.is_ascii_alphanumeric() { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect()
}

/// The value of a control of one line.
pub(crate) fn value(page: &str, name: &str) -> String {
    let (_, rest) =
        page.split_once(&format!("name=\"{name}\" value=\"")).unwrap_or_else(|| panic!("no {name} in {page}"));
    rest.split('"').next().unwrap_or_default().to_owned()
}
