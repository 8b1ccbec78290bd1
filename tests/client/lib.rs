//! How tests and figures ask a running program: one connection that stays open, one answer after the other.
//!
//! Two things are asked by hand instead, and say so: the bench that sees what a bare socket carries, and the
//! proof that kills the program, which counts an answer of which only the head came.

use anyhow::{Result, bail};
use http_body_util::{BodyExt as _, Full};
use hyper::body::Bytes;
use hyper::client::conn::http1::{SendRequest, handshake};
use hyper::header::{CONTENT_TYPE, HOST, HeaderName, ORIGIN};
use hyper::{HeaderMap, Request, StatusCode};
use hyper_util::rt::TokioIo;
use tokio::net::TcpStream;

/// One open connection.
#[derive(Debug)]
pub struct Client {
    sender: SendRequest<Full<Bytes>>,
    host: String,
}

/// An answer, whole.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: StatusCode,
    /// The headers.
    pub headers: HeaderMap,
    /// The body.
    pub body: Bytes,
}

impl Answer {
    /// The body as text.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// A header as text; empty where it is not there.
    pub fn header(&self, name: impl Into<HeaderName>) -> &str {
        self.headers.get(name.into()).and_then(|value| value.to_str().ok()).unwrap_or_default()
    }
}

impl Client {
    /// Opens a connection to a host and port.
    ///
    /// # Errors
    ///
    /// Where nobody listens there.
    pub async fn connect(host: &str) -> Result<Self> {
        let stream = TcpStream::connect(host).await?;
        stream.set_nodelay(true)?;
        let (sender, connection) = handshake(TokioIo::new(stream)).await?;
        tokio::spawn(connection);
        Ok(Self { sender, host: host.to_owned() })
    }

    /// Asks for a path.
    ///
    /// # Errors
    ///
    /// Where no whole answer comes.
    pub async fn get(&mut self, path: &str) -> Result<Answer> {
        self.get_with(path, &[]).await
    }

    /// The same with headers.
    ///
    /// # Errors
    ///
    /// As [`Client::get`].
    pub async fn get_with(&mut self, path: &str, headers: &[(HeaderName, &str)]) -> Result<Answer> {
        let request = headers.iter().fold(Request::get(path), |request, (name, value)| request.header(name, *value));
        self.ask(request.header(HOST, &self.host).body(Full::default())?).await
    }

    /// Sends a form as one of our own pages would.
    ///
    /// # Errors
    ///
    /// As [`Client::get`].
    pub async fn post(&mut self, path: &str, form: &str) -> Result<Answer> {
        let request = Request::post(path)
            .header(HOST, &self.host)
            .header(ORIGIN, format!("http://{}", self.host))
            .header("Sec-Fetch-Site", "same-origin")
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.ask(request.body(Full::from(form.to_owned()))?).await
    }

    async fn ask(&mut self, request: Request<Full<Bytes>>) -> Result<Answer> {
        if self.sender.is_closed() {
            bail!("the program closed the connection");
        }
        self.sender.ready().await?;
        let (head, body) = self.sender.send_request(request).await?.into_parts();
        Ok(Answer { status: head.status, headers: head.headers, body: body.collect().await?.to_bytes() })
    }
}
