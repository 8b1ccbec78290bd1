//! Where athletes' pages are served.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use serde::Deserialize;
use store::StoreError;
use url::Url;

use super::show::DoorsPage;
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::form::{Choice, Problems, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout};
use crate::state::{AppState, ShareDoor};

/// Where athletes' pages are served if the coach only switches them on.
pub(super) const USUAL_ADDRESS: &str = "0.0.0.0:4651";

/// The form as typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    pub(super) version: String,
    /// `on` or `off`.
    pub(super) served: String,
    pub(super) share_address: String,
    pub(super) share_url: String,
}

impl Typed {
    /// What is kept; where nothing is, the door that was asked for at the start.
    pub(super) fn of(doors: &store::Doors, door: &ShareDoor) -> Self {
        let address = match (doors.share_address.as_str(), door) {
            ("", ShareDoor::Open { address, .. } | ShareDoor::Taken { address }) => address.to_string(),
            (kept, _) => kept.to_owned(),
        };
        Self {
            version: doors.version.to_string(),
            served: if address.is_empty() { "off" } else { "on" }.to_owned(),
            share_address: if address.is_empty() { USUAL_ADDRESS.to_owned() } else { address },
            share_url: doors.share_url.clone(),
        }
    }

    /// The address and what links begin with, if they are served at all.
    fn read(&self, coach: SocketAddr, problems: &mut Problems) -> (Option<SocketAddr>, Option<String>) {
        let address = one_line(&self.share_address);
        let served = match self.served.as_str() {
            "on" => true,
            "off" => false,
            _ => {
                problems.add("served", "Choose on or off.");
                false
            }
        };
        let asked = served.then(|| address.parse::<SocketAddr>().ok()).flatten();
        if served && asked.is_none() {
            problems.add(
                "share_address",
                format!("\u{201c}{address}\u{201d} is not an address with a port: write it like {USUAL_ADDRESS}."),
            );
        }
        if let Some(asked) = asked.filter(|asked| asked.port() == coach.port() || asked.port() == 0) {
            problems.add(
                "share_address",
                format!(
                    "Port {} cannot be used: your own pages have port {}. Take another, such as 4651.",
                    asked.port(),
                    coach.port()
                ),
            );
        }
        if let Some(asked) = asked.filter(|asked| is_of_no_machine(asked.ip())) {
            problems.add(
                "share_address",
                format!(
                    "{} is not an address of one machine: take {USUAL_ADDRESS}, or one of this machine's own.",
                    asked.ip()
                ),
            );
        }
        let url = one_line(&self.share_url);
        let url = (!url.is_empty()).then_some(url);
        let read = url.as_deref().map(|url| read_share_url(url).ok_or(url));
        if let Some(Err(url)) = read {
            problems.add(
                "share_url",
                format!("\u{201c}{url}\u{201d} is not what a link can begin with: write it like https://runs.example, without a path."),
            );
        }
        (asked, read.and_then(Result::ok))
    }
}

fn is_of_no_machine(address: IpAddr) -> bool {
    address.is_multicast() || address == IpAddr::V4(Ipv4Addr::BROADCAST)
}

/// `POST /settings/sharing`: saves it, and opens or closes the door at once.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    let (asked, url) = typed.read(state.coach, &mut problems);
    if !problems.is_empty() {
        let page = DoorsPage::read(layout, &state, problems).await?.with_typed(typed);
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let address = asked.map(|asked| asked.to_string()).unwrap_or_default();
    let read_at = read_version(&typed.version);
    let kept_url = url.as_deref().unwrap_or_default();
    match state.store.save_sharing(read_at, &address, kept_url, state.clock.now()).await {
        Ok(()) => {}
        Err(StoreError::Conflict) => return conflict(&state, layout, &typed).await,
        Err(error) => return Err(error.into()),
    }
    let notice = match state.share.open(asked, url.as_deref()).await? {
        ShareDoor::Off => Notice::SharingOff,
        ShareDoor::Open { .. } => Notice::SharingOn,
        ShareDoor::Taken { .. } => Notice::SharingTaken,
    };
    Ok(notice::redirect(paths::DOORS, notice))
}

async fn conflict(state: &AppState, layout: Layout, typed: &Typed) -> Result<Response, AppError> {
    let kept = Typed::of(&state.store.doors().await?, &state.share.now());
    let page = ConflictPage {
        layout: layout.at(Area::Settings),
        what: "Where athletes' pages are served".to_owned(),
        rows: vec![
            Row::menu("served", "Athletes' pages", &kept.served, &typed.served, choices()),
            Row::new("share_address", "Address", &kept.share_address, &typed.share_address),
            Row::new("share_url", "Links begin with", &kept.share_url, &typed.share_url),
        ],
        version: kept.version,
        action: paths::SHARING.to_owned(),
        back: paths::DOORS.to_owned(),
    };
    page.answer()
}

pub(super) fn choices() -> Vec<Choice> {
    vec![Choice::new("off", "Off"), Choice::new("on", "On: whoever has a link can read that block")]
}

/// What links begin with, as browsers write it: scheme and host, the usual port left away, letters beyond
/// ASCII as they travel. Nothing if it is more or less than that.
pub(crate) fn read_share_url(text: &str) -> Option<String> {
    let url = Url::parse(text.trim()).ok().filter(|url| matches!(url.scheme(), "http" | "https"))?;
    let is_bare = url.path() == "/" && url.query().is_none() && url.fragment().is_none();
    let is_open = url.username().is_empty() && url.password().is_none();
    (is_bare && is_open && url.has_host()).then(|| url.origin().ascii_serialization())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_url_is_scheme_and_host() {
        for (good, kept) in [
            ("https://runs.example", "https://runs.example"),
            ("http://192.168.1.20:4651/", "http://192.168.1.20:4651"),
            (" HTTPS://Runs.Example ", "https://runs.example"),
            ("https://runs.example:443", "https://runs.example"),
            ("http://runs.example:80", "http://runs.example"),
            ("http://runs.example:443", "http://runs.example:443"),
            ("https://l\u{e4}ufe.example", "https://xn--lufe-loa.example"),
            ("http://[fd00::1]:4651", "http://[fd00::1]:4651"),
        ] {
            assert_eq!(read_share_url(good).as_deref(), Some(kept), "{good}");
        }
        for bad in [
            "runs.example",
            "https://",
            "https://:80",
            "https://a,b/x",
            "https://runs.example/club",
            "https://runs.example:99999",
            "https://\"><b>x",
            "https://runs.example?x",
            "ftp://runs.example",
            "https://a@b",
        ] {
            assert!(read_share_url(bad).is_none(), "{bad}");
        }
    }
}
