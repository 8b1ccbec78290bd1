//! What every request passes before any page sees it.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use axum::extract::{DefaultBodyLimit, MatchedPath, Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderValue, StatusCode};
use axum::middleware::{Next, from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::timeout::TimeoutLayer;

use crate::error;

/// The most that one form may hold, in bytes.
const BODY_MOST: usize = 2 * 1024 * 1024;

/// The longest that one request may take.
const TIME_MOST: Duration = Duration::from_secs(30);

/// What the coach's pages may load: nothing but our own files. `connect-src` is for what scripts ask for:
/// readings and previews while somebody types, and the form of a day in its place.
const COACH_POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; \
     connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// What athletes' pages may load: no script, because they have none.
const SHARE_POLICY: &str = "default-src 'none'; style-src 'self'; img-src 'self' data:; \
     form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// The names under which a door answers; any other is refused before routing, so that a foreign
/// page cannot reach it through a name of its own.
#[derive(Clone, Debug)]
pub struct Hosts(Arc<[String]>);

impl Hosts {
    /// The loopback names with the port of an address, and the address itself.
    pub fn loopback(address: SocketAddr) -> Self {
        let mut names = Vec::new();
        if address.ip().is_loopback() {
            push(&mut names, &host(address.ip()), address.port());
        }
        for name in ["localhost", "127.0.0.1", "[::1]"] {
            push(&mut names, name, address.port());
        }
        Self(names.into())
    }

    /// The names of the coach's door: the loopback names, and where others reach it.
    pub fn coach(address: SocketAddr) -> Self {
        if address.ip().is_loopback() {
            return Self::loopback(address);
        }
        let mut names = Self::share(address, &[]).0.to_vec();
        push(&mut names, &host(crate::doors::reachable(address).ip()), address.port());
        Self(names.into())
    }

    /// The loopback names, the address itself and further authorities (`runs.example`,
    /// `192.168.1.20:4651`) as a browser writes them.
    pub fn share(address: SocketAddr, further: &[String]) -> Self {
        let mut names = Self::loopback(address).0.to_vec();
        if !address.ip().is_unspecified() {
            push(&mut names, &host(address.ip()), address.port());
        }
        names.extend(further.iter().map(|name| name.to_ascii_lowercase()));
        Self(names.into())
    }

    fn holds(&self, authority: &str) -> bool {
        self.0.iter().any(|known| known.eq_ignore_ascii_case(authority))
    }
}

/// An address as it stands before the port.
fn host(address: IpAddr) -> String {
    match address {
        IpAddr::V4(four) => four.to_string(),
        IpAddr::V6(six) => format!("[{six}]"),
    }
}

/// Browsers leave the usual port away.
fn push(names: &mut Vec<String>, name: &str, port: u16) {
    names.push(format!("{name}:{port}"));
    if port == 80 {
        names.push(name.to_owned());
    }
}

/// Puts the coach's door behind its guards.
pub(crate) fn coach(routes: Router, hosts: Hosts) -> Router {
    let inside = routes
        .layer(from_fn(log))
        .layer(CompressionLayer::new())
        .layer(DefaultBodyLimit::max(BODY_MOST))
        .layer(CsrfLayer::new())
        .layer(from_fn(crate::notice::forget))
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, TIME_MOST))
        .layer(CatchPanicLayer::custom(error::panicked));
    // A router around the router: these layers run before any routing.
    Router::new()
        .fallback_service(inside)
        .layer(from_fn_with_state(hosts, check_host))
        .layer(from_fn(error::dress))
        .layer(from_fn_with_state(COACH_POLICY, headers))
}

/// Puts the athletes' door behind its guards.
pub fn share(routes: Router, hosts: Hosts) -> Router {
    let inside = routes
        .layer(from_fn(log))
        .layer(CompressionLayer::new())
        .layer(DefaultBodyLimit::max(BODY_MOST))
        .layer(CsrfLayer::new())
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, TIME_MOST))
        .layer(CatchPanicLayer::custom(|_| StatusCode::INTERNAL_SERVER_ERROR.into_response()));
    Router::new()
        .fallback_service(inside)
        .layer(from_fn_with_state(hosts, check_host))
        .layer(from_fn(error::dress_shared))
        .layer(from_fn_with_state(SHARE_POLICY, headers))
}

/// Logs the route, never the address itself: addresses of athletes' pages are secrets.
async fn log(request: Request, next: Next) -> Response {
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().cloned();
    let begun = Instant::now();
    let response = next.run(request).await;
    let route = route.as_ref().map_or("none", MatchedPath::as_str);
    let milliseconds = u64::try_from(begun.elapsed().as_millis()).unwrap_or(u64::MAX);
    tracing::debug!(%method, route, status = response.status().as_u16(), milliseconds, "answered");
    response
}

/// Exactly one host, and one of ours. An address in the request line counts as well.
async fn check_host(State(hosts): State<Hosts>, request: Request, next: Next) -> Response {
    let mut given = request.headers().get_all(HOST).iter();
    let named = match (given.next(), given.next()) {
        (Some(host), None) => host.to_str().is_ok_and(|host| hosts.holds(host)),
        _ => false,
    };
    let asked = request.uri().authority().is_none_or(|authority| hosts.holds(authority.as_str()));
    if named && asked { next.run(request).await } else { StatusCode::MISDIRECTED_REQUEST.into_response() }
}

/// The headers of every answer; a page that says nothing else of it is not kept anywhere.
async fn headers(State(policy): State<&'static str>, request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy));
    headers.insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    headers.insert(HeaderName::from_static("cross-origin-opener-policy"), HeaderValue::from_static("same-origin"));
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_policy_of_the_coach_door_is_this_and_nothing_else() {
        assert_eq!(
            COACH_POLICY,
            "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; connect-src 'self'; \
             form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
        );
    }

    #[test]
    fn the_policy_of_the_athletes_door_is_this_and_nothing_else() {
        assert_eq!(
            SHARE_POLICY,
            "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; \
             frame-ancestors 'none'"
        );
    }

    #[test]
    fn only_the_exact_names_with_the_port_are_hosts() {
        let hosts = Hosts::loopback(SocketAddr::from(([127, 0, 0, 1], 4650)));
        for good in ["127.0.0.1:4650", "localhost:4650", "LOCALHOST:4650", "[::1]:4650"] {
            assert!(hosts.holds(good), "{good}");
        }
        for bad in ["127.0.0.1", "localhost", "localhost.:4650", "127.0.0.1:4651", "evil.example:4650", "", ":4650"] {
            assert!(!hosts.holds(bad), "{bad}");
        }
    }

    #[test]
    fn the_usual_port_may_be_left_away() {
        let hosts = Hosts::loopback(SocketAddr::from(([127, 0, 0, 1], 80)));
        assert!(hosts.holds("localhost") && hosts.holds("localhost:80"));
        let share = Hosts::share(SocketAddr::from(([192, 168, 1, 20], 80)), &[]);
        assert!(share.holds("192.168.1.20") && share.holds("192.168.1.20:80") && !share.holds("192.168.1.20:81"));
        let six = Hosts::share("[fd00::1]:80".parse().unwrap(), &[]);
        assert!(six.holds("[fd00::1]") && six.holds("[fd00::1]:80"));
    }

    #[test]
    fn a_door_open_to_every_address_does_not_answer_to_zero() {
        let hosts = Hosts::share(SocketAddr::from(([0, 0, 0, 0], 4651)), &["Runs.example".to_owned()]);
        assert!(hosts.holds("runs.example") && !hosts.holds("0.0.0.0:4651"));
    }
}
