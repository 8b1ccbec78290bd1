//! The little of HTTP that asking one server needs: requests on a connection that stays open.

use anyhow::{Context, Result};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::TcpStream;

/// One open connection.
pub(crate) struct Client {
    stream: TcpStream,
    host: String,
    buffer: Vec<u8>,
}

/// An answer.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    /// The body as text.
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

impl Client {
    pub(crate) async fn connect(host: &str) -> Result<Self> {
        let stream = TcpStream::connect(host).await?;
        stream.set_nodelay(true)?;
        Ok(Self { stream, host: host.to_owned(), buffer: Vec::new() })
    }

    pub(crate) async fn get(&mut self, path: &str) -> Result<Answer> {
        let request = format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.host);
        self.ask(&request).await
    }

    /// A form sent from one of our own pages.
    pub(crate) async fn post(&mut self, path: &str, form: &str) -> Result<Answer> {
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nSec-Fetch-Site: same-origin\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{form}",
            form.len(),
            host = self.host
        );
        self.ask(&request).await
    }

    async fn ask(&mut self, request: &str) -> Result<Answer> {
        self.stream.write_all(request.as_bytes()).await?;
        let end = loop {
            if let Some(at) = self.buffer.windows(4).position(|bytes| bytes == b"\r\n\r\n") {
                break at + 4;
            }
            self.more().await?;
        };
        let head = String::from_utf8(self.buffer[..end].to_vec())?.to_ascii_lowercase();
        let status = head.split(' ').nth(1).and_then(|text| text.parse().ok()).context("a status")?;
        let body = if head.contains("transfer-encoding: chunked") {
            self.buffer.drain(..end);
            self.chunks().await?
        } else {
            let length = head.lines().find_map(|line| line.strip_prefix("content-length: "));
            let length: usize = length.map_or(Ok(0), str::parse)?;
            while self.buffer.len() < end + length {
                self.more().await?;
            }
            self.buffer.drain(..end);
            self.buffer.drain(..length).collect()
        };
        Ok(Answer { status, head, body })
    }

    async fn chunks(&mut self) -> Result<Vec<u8>> {
        let mut body = Vec::new();
        loop {
            let line = loop {
                if let Some(at) = self.buffer.windows(2).position(|bytes| bytes == b"\r\n") {
                    break String::from_utf8(self.buffer.drain(..at + 2).collect())?;
                }
                self.more().await?;
            };
            let size = usize::from_str_radix(line.trim(), 16)?;
            while self.buffer.len() < size + 2 {
                self.more().await?;
            }
            body.extend(self.buffer.drain(..size));
            self.buffer.drain(..2);
            if size == 0 {
                return Ok(body);
            }
        }
    }

    async fn more(&mut self) -> Result<()> {
        let read = self.stream.read_buf(&mut self.buffer).await?;
        anyhow::ensure!(read > 0, "the connection was closed in the middle of an answer");
        Ok(())
    }
}
