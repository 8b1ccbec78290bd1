//! The page in the browser, used as a person uses it: by labels, links and buttons.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail, ensure};
use serde::de::DeserializeOwned;
use serde_json::json;
use tempfile::TempDir;
use thirtyfour::prelude::{ElementWaitable, WebElement};
use thirtyfour::support::base64_decode;
use thirtyfour::{By, TypingData, WebDriver};

use crate::print::Print;

/// How long a page may take before the story fails.
const PATIENCE: Duration = Duration::from_secs(15);
/// How often it is looked whether the page has come.
const EVERY: Duration = Duration::from_millis(20);
/// How many looks in a row an element has to stand where it stood: longer than the page waits before
/// it asks the server to read along.
const STILL: u32 = 25;

/// Finds the form control with a label: that text, or text that begins so.
const CONTROL: &str = r#"
    const plain = (text) => text.replace(/\s+/g, " ").trim();
    const said = (control) => [...(control.labels ?? [])].map((label) => plain(label.textContent))
        .concat(plain(control.getAttribute("aria-label") ?? ""));
    const controls = [...document.querySelectorAll("input, select, textarea")]
        .filter((control) => control.type !== "hidden");
    const wanted = arguments[0];
    return controls.find((control) => said(control).includes(wanted))
        ?? controls.find((control) => said(control).some((text) => text.startsWith(wanted)))
        ?? null;
"#;

/// Types into a control that the browser shows in its own parts, as it does for dates and times.
const SET: &str = r#"
    arguments[0].value = arguments[1];
    arguments[0].dispatchEvent(new Event("input", { bubbles: true }));
    arguments[0].dispatchEvent(new Event("change", { bubbles: true }));
"#;

/// Whether anything is wider than the window, as a phone would scroll sideways for it.
const TOO_WIDE: &str = r#"
    const room = document.documentElement.clientWidth;
    return document.documentElement.scrollWidth > room
        ? [...document.querySelectorAll("body *")]
            .filter((element) => element.getBoundingClientRect().right > room + 1)
            .map((element) => element.tagName.toLowerCase() + "." + element.className).slice(0, 5).join(", ")
        : "";
"#;

/// What the page has asked the network for, itself excepted.
const LOADED: &str = r#"return performance.getEntriesByType("resource").map((entry) => entry.name);"#;

/// What eyes see of an element: without what is there for screen readers only.
const SEEN: &str = r#"
    const element = document.querySelector(arguments[0]);
    const heard = [...element.querySelectorAll(".unseen")];
    heard.forEach((part) => { part.hidden = true; });
    const text = element.innerText;
    heard.forEach((part) => { part.hidden = false; });
    return text;
"#;

/// Whether all of the page has arrived.
const WHOLE: &str = r#"return document.readyState === "complete";"#;

/// How a page is looked at.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Look {
    /// On a desk, by day.
    Light,
    /// On a desk, by lamplight.
    Dark,
    /// On a phone, by lamplight.
    Phone,
}

impl Look {
    /// Every way.
    pub(crate) const ALL: [Self; 3] = [Self::Light, Self::Dark, Self::Phone];
}

/// One window of the browser.
pub(crate) struct Page {
    session: WebDriver,
    downloads: TempDir,
}

impl Page {
    pub(crate) fn new(session: WebDriver) -> Result<Self> {
        Ok(Self { session, downloads: TempDir::new()? })
    }

    /// Goes to an address and waits for the whole page.
    pub(crate) async fn open(&self, address: &str) -> Result<()> {
        self.session.goto(address).await.with_context(|| format!("{address} cannot be opened"))?;
        self.is_whole().await
    }

    /// Waits until all of the page has arrived: on a loaded machine the driver goes on while the browser
    /// still reads a long page, and a story would see its first half.
    async fn is_whole(&self) -> Result<()> {
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            // While one page gives way to the next there is none to ask.
            let whole = self.session.execute(WHOLE, Vec::new()).await.and_then(|answer| answer.convert());
            if whole.unwrap_or(false) {
                return Ok(());
            }
            tokio::time::sleep(EVERY).await;
        }
        bail!("the page did not arrive within {PATIENCE:?}")
    }

    /// Opens a file from disk.
    pub(crate) async fn open_file(&self, path: &Path) -> Result<()> {
        self.open(&format!("file://{}", path.display())).await
    }

    /// The address that the window shows.
    pub(crate) async fn address(&self) -> Result<String> {
        Ok(self.session.current_url().await?.to_string())
    }

    /// The text that a reader sees.
    pub(crate) async fn text(&self) -> Result<String> {
        Ok(self.session.find(By::Tag("body")).await?.text().await?)
    }

    /// What eyes see of the first element that a CSS selector finds.
    pub(crate) async fn seen_of(&self, selector: &str) -> Result<String> {
        let text = self.session.execute(SEEN, vec![json!(selector)]).await;
        Ok(text.with_context(|| format!("{selector} is not on the page"))?.convert()?)
    }

    /// What stands in all fields that a CSS selector finds, as it would be copied.
    pub(crate) async fn typed_in(&self, selector: &str) -> Result<String> {
        let script = "return [...document.querySelectorAll(arguments[0])].map((field) => field.value).join('\\n')";
        let text = self.session.execute(script, vec![json!(selector)]).await;
        Ok(text.with_context(|| format!("{selector} cannot be read"))?.convert()?)
    }

    /// How many elements a CSS selector finds.
    pub(crate) async fn count(&self, selector: &str) -> Result<usize> {
        Ok(self.session.find_all(By::Css(selector)).await?.len())
    }

    /// What the page has asked the network for, itself excepted.
    pub(crate) async fn loaded(&self) -> Result<Vec<String>> {
        Ok(self.session.execute(LOADED, Vec::new()).await?.convert()?)
    }

    /// Fails unless the reader sees each of the texts.
    pub(crate) async fn sees(&self, wanted: &[&str]) -> Result<()> {
        let text = self.text().await?;
        for one in wanted {
            ensure!(text.contains(one), "the page does not say {one:?}; it says:\n{text}");
        }
        Ok(())
    }

    /// Waits until the reader sees the text: for what comes while somebody types.
    pub(crate) async fn comes_to_see(&self, wanted: &str) -> Result<()> {
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            if self.text().await.is_ok_and(|text| text.contains(wanted)) {
                return Ok(());
            }
            tokio::time::sleep(EVERY).await;
        }
        self.sees(&[wanted]).await
    }

    /// Follows the link, or presses the button, that has this text, and waits for the next page.
    pub(crate) async fn press(&self, text: &str) -> Result<()> {
        let before = self.session.find(By::Tag("html")).await?;
        let pressed = self.link_or_button(text).await?;
        self.stands_still(&pressed).await?;
        pressed.click().await.with_context(|| format!("{text:?} cannot be pressed"))?;
        before
            .wait_until()
            .wait(PATIENCE, EVERY)
            .stale()
            .await
            .with_context(|| format!("nothing came after {text:?}"))?;
        self.is_whole().await
    }

    /// Presses a link or button whose answer comes into the page that is shown.
    pub(crate) async fn touch(&self, text: &str) -> Result<()> {
        let pressed = self.link_or_button(text).await?;
        self.stands_still(&pressed).await?;
        pressed.click().await.with_context(|| format!("{text:?} cannot be pressed"))
    }

    /// Presses the first element that a CSS selector finds, where the answer comes into the page that is shown.
    pub(crate) async fn touch_at(&self, selector: &str) -> Result<()> {
        let pressed = self.session.find(By::Css(selector)).await?;
        self.stands_still(&pressed).await?;
        pressed.click().await.with_context(|| format!("{selector} cannot be pressed"))
    }

    /// Puts the focus on the first element that a CSS selector finds.
    pub(crate) async fn focus(&self, selector: &str) -> Result<()> {
        self.session.find(By::Css(selector)).await?.focus().await.with_context(|| format!("{selector} takes no focus"))
    }

    /// Sends keys to whatever has the focus.
    pub(crate) async fn keys(&self, keys: impl Into<TypingData>) -> Result<()> {
        Ok(self.session.active_element().await?.send_keys(keys).await?)
    }

    /// The text of what has the focus.
    pub(crate) async fn focused(&self) -> Result<String> {
        Ok(self.session.active_element().await?.text().await?)
    }

    /// Waits until a CSS selector finds something that has the focus.
    pub(crate) async fn comes_to_focus(&self, selector: &str) -> Result<()> {
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            let focused = format!("{selector}:focus");
            if self.count(&focused).await? == 1 {
                return Ok(());
            }
            tokio::time::sleep(EVERY).await;
        }
        bail!("the focus is on {:?}, not on {selector}", self.focused().await?)
    }

    /// Waits until an element has stopped moving: while the server reads along, answers that arrive
    /// push a button away from where it is about to be pressed.
    async fn stands_still(&self, element: &WebElement) -> Result<()> {
        let mut seen = element.rect().await?;
        let mut still = 0;
        let begin = Instant::now();
        while still < STILL && begin.elapsed() < PATIENCE {
            tokio::time::sleep(EVERY).await;
            let now = element.rect().await?;
            still = if (now.x, now.y) == (seen.x, seen.y) { still + 1 } else { 0 };
            seen = now;
        }
        Ok(())
    }

    /// Opens or closes what is folded behind a line that begins so.
    pub(crate) async fn unfold(&self, text: &str) -> Result<()> {
        for found in self.session.find_all(By::Tag("summary")).await? {
            if found.text().await?.starts_with(text) {
                return Ok(found.click().await?);
            }
        }
        bail!("nothing is folded behind {text:?}")
    }

    /// Follows a link or presses a button that gives a file, and waits until it is there.
    pub(crate) async fn download(&self, text: &str) -> Result<PathBuf> {
        let folder = self.downloads.path();
        let there = json!({ "behavior": "allow", "downloadPath": folder.display().to_string() });
        self.session.cdp().send_raw("Browser.setDownloadBehavior", there).await?;
        self.link_or_button(text).await?.click().await?;
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            for entry in std::fs::read_dir(folder)? {
                let path = entry?.path();
                if path.extension().is_some_and(|extension| extension != "crdownload" && extension != "tmp") {
                    return Ok(path);
                }
            }
            tokio::time::sleep(EVERY).await;
        }
        bail!("no file came after {text:?}")
    }

    /// Puts text into the field with this label, instead of what stands there.
    pub(crate) async fn fill(&self, label: &str, value: &str) -> Result<()> {
        let field = self.field(label).await?;
        let kind = field.prop("type").await?.unwrap_or_default();
        if matches!(kind.as_str(), "date" | "time") {
            self.session.execute(SET, vec![field.to_json()?, json!(value)]).await?;
            return Ok(());
        }
        field.clear().await?;
        field.send_keys(value).await.with_context(|| format!("{label:?} cannot be filled"))
    }

    /// Chooses an option by its text in the list with this label.
    pub(crate) async fn choose(&self, label: &str, option: &str) -> Result<()> {
        let field = self.field(label).await?;
        for one in field.find_all(By::Tag("option")).await? {
            if one.text().await?.trim() == option {
                return Ok(one.click().await?);
            }
        }
        bail!("{label:?} has no option {option:?}")
    }

    /// Ticks the box, or takes the choice, with this label.
    pub(crate) async fn tick(&self, label: &str) -> Result<()> {
        let field = self.field(label).await?;
        if !field.is_selected().await? {
            field.click().await?;
        }
        Ok(())
    }

    /// What stands in the field with this label.
    pub(crate) async fn value(&self, label: &str) -> Result<String> {
        Ok(self.field(label).await?.prop("value").await?.unwrap_or_default())
    }

    /// Makes the window as wide as a phone.
    pub(crate) async fn as_wide_as_a_phone(&self) -> Result<()> {
        self.as_wide_as(390).await
    }

    /// Makes the window as wide as a phone whose owner reads at twice the size.
    pub(crate) async fn as_wide_as_a_phone_at_twice_the_size(&self) -> Result<()> {
        self.as_wide_as(195).await
    }

    async fn as_wide_as(&self, width: u32) -> Result<()> {
        // The window of a desktop browser cannot be made this narrow: the screen is pretended.
        let phone = json!({ "width": width, "height": 844, "deviceScaleFactor": 3, "mobile": true });
        self.session.cdp().send_raw("Emulation.setDeviceMetricsOverride", phone).await?;
        Ok(())
    }

    /// Makes the window so wide and so high, in points, sharp enough to read when it is shown smaller.
    pub(crate) async fn as_large_as(&self, (width, height): (u32, u32)) -> Result<()> {
        let screen = json!({ "width": width, "height": height, "deviceScaleFactor": 1.5, "mobile": false });
        self.session.cdp().send_raw("Emulation.setDeviceMetricsOverride", screen).await?;
        self.session.cdp().send_raw("Emulation.setScrollbarsHidden", json!({ "hidden": true })).await?;
        Ok(())
    }

    /// Keeps what the window shows as a picture.
    pub(crate) async fn picture(&self, path: &Path) -> Result<()> {
        Ok(self.session.screenshot(path).await?)
    }

    /// Shows the page in another light or on another screen. Colours change at once, without a passage.
    pub(crate) async fn looks(&self, look: Look) -> Result<()> {
        let scheme = if matches!(look, Look::Light) { "light" } else { "dark" };
        let features = json!({ "features": [
            { "name": "prefers-color-scheme", "value": scheme },
            { "name": "prefers-reduced-motion", "value": "reduce" },
        ] });
        self.session.cdp().send_raw("Emulation.setEmulatedMedia", features).await?;
        if matches!(look, Look::Phone) {
            return self.as_wide_as_a_phone().await;
        }
        self.session.cdp().send_raw("Emulation.clearDeviceMetricsOverride", json!({})).await?;
        Ok(())
    }

    /// Runs a script on the page.
    pub(crate) async fn run(&self, script: &str) -> Result<()> {
        self.session.execute(script, Vec::new()).await?;
        Ok(())
    }

    /// What a script hands to the function that is its last argument.
    pub(crate) async fn answer_of<Said: DeserializeOwned>(&self, script: &str) -> Result<Said> {
        Ok(self.session.execute_async(script, Vec::new()).await?.convert()?)
    }

    /// Fails if the page is wider than the window.
    pub(crate) async fn fits_its_width(&self) -> Result<()> {
        let wide: String = self.session.execute(TOO_WIDE, Vec::new()).await?.convert()?;
        ensure!(wide.is_empty(), "wider than the window: {wide}");
        Ok(())
    }

    /// Prints the page on the paper that its own style sheet asks for.
    pub(crate) async fn print(&self) -> Result<Print> {
        let wanted = json!({ "preferCSSPageSize": true, "printBackground": false });
        let answer = self.session.cdp().send_raw("Page.printToPDF", wanted).await?;
        let data = answer.get("data").and_then(serde_json::Value::as_str).context("the browser printed nothing")?;
        Print::read(&base64_decode(data)?)
    }

    async fn field(&self, label: &str) -> Result<WebElement> {
        let found = self.session.execute(CONTROL, vec![json!(label)]).await?;
        found.element().with_context(|| format!("no field is labelled {label:?}"))
    }

    async fn link_or_button(&self, text: &str) -> Result<WebElement> {
        ensure!(!text.contains('\''), "a text with an apostrophe cannot be looked for");
        let path = format!("//*[(self::a or self::button or self::summary) and normalize-space()='{text}']");
        for found in self.session.find_all(By::XPath(path)).await? {
            if found.is_displayed().await? {
                return Ok(found);
            }
        }
        bail!("no link or button says {text:?} on {}:\n{}", self.address().await?, self.text().await?)
    }
}
