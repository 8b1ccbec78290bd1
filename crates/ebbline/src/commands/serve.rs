//! `ebbline serve`: the app, and what is said when it starts.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};

use clap::Args;
use server::{Clock, Config, ServeError, Server, ShareDoor};

use super::Failure;

/// Serves the coach's pages on this machine, and athletes' pages if asked to.
#[derive(Args, Debug, Default)]
pub(crate) struct Arguments {
    /// The data file; by default where this machine keeps user data.
    #[arg(long, value_name = "FILE", env = "EBBLINE_DATA")]
    data: Option<PathBuf>,
    #[command(flatten)]
    doors: Doors,
    /// Removes a pass phrase that nobody remembers, before anything is served.
    #[arg(long)]
    forget_pass_phrase: bool,
}

/// Where to listen: the same for `serve` and `demo`.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct Doors {
    /// The coach's address [default: 127.0.0.1:4650]; others than this machine's need a pass phrase.
    #[arg(long, value_name = "ADDR", env = "EBBLINE_LISTEN")]
    listen: Option<SocketAddr>,
    /// The athletes' address, such as 0.0.0.0:4651; off unless given or set in Settings.
    #[arg(long, value_name = "ADDR", env = "EBBLINE_SHARE")]
    share: Option<SocketAddr>,
    /// What links to athletes begin with, if not the athletes' address.
    #[arg(long, value_name = "URL", env = "EBBLINE_SHARE_URL")]
    share_url: Option<String>,
    /// Opens the browser.
    #[arg(long, env = "EBBLINE_OPEN")]
    open: bool,
}

impl Doors {
    /// The same with a data file.
    pub(crate) fn config(&self, data: PathBuf) -> Config {
        Config {
            data,
            listen: self.listen.unwrap_or(SocketAddr::from(([127, 0, 0, 1], 4650))),
            share: self.share,
            share_url: self.share_url.clone(),
        }
    }

    /// Whether the browser is to be opened.
    pub(crate) const fn opens_browser(&self) -> bool {
        self.open
    }
}

pub(crate) fn run(arguments: &Arguments) -> Result<(), Failure> {
    let data = super::data_file(arguments.data.as_deref())?;
    make_folder(&data)?;
    let config = arguments.doors.config(data);
    super::block_on(async {
        super::start_log();
        if arguments.forget_pass_phrase {
            forget_pass_phrase(&config.data).await?;
        }
        let server = match Server::open(&config, Clock::system()).await {
            Err(ServeError::InUse { address }) if server::answers(address, &config.data).await => {
                let address = format!("http://{address}");
                println!("Ebbline is open already at {address}");
                if arguments.doors.opens_browser() {
                    super::browser::open(&address);
                }
                return Ok(());
            }
            opened => opened.map_err(|error| failure(&error))?,
        };
        say(&server, &config.data);
        if arguments.doors.opens_browser() {
            super::browser::open(&address(&server));
        }
        server.run(server::stop_signal()).await.map_err(|error| failure(&error))
    })
}

/// Whoever can start the program on the data file can read it anyway.
async fn forget_pass_phrase(data: &Path) -> Result<(), Failure> {
    let store = super::data::open(data).await?;
    let forgotten = store.set_pass_phrase(None, Clock::system().now()).await;
    forgotten.map_err(|error| Failure::Data(server::said(&error)))?;
    store.close().await;
    println!("The pass phrase is removed.");
    Ok(())
}

/// Opens the data file and the doors.
pub(crate) async fn open(config: &Config) -> Result<Server, Failure> {
    super::start_log();
    Server::open(config, Clock::system()).await.map_err(|error| failure(&error))
}

/// Tells where the app is.
pub(crate) fn say(server: &Server, data: &Path) {
    println!("Ebbline is open at {}", address(server));
    if let Some(others) = server.address_for_others() {
        println!("From other machines: http://{others}, with your pass phrase");
    }
    println!("Data file: {}", data.display());
    match server.share() {
        ShareDoor::Off => {}
        ShareDoor::Open { address, base } => println!("Athletes' pages: {base} (listening on {address})"),
        ShareDoor::Taken { address } => {
            println!("Athletes' pages are not served: {address} could not be opened. Choose another with --share.");
        }
    }
    for warning in server.warnings() {
        println!("Note: {warning}");
    }
    println!("Press Ctrl+C to stop.");
}

/// What the browser has to open.
pub(crate) fn address(server: &Server) -> String {
    format!("http://{}", server.address())
}

/// A wrong flag is wrong usage; the rest is a matter of the data or the machine.
pub(crate) fn failure(error: &ServeError) -> Failure {
    match error {
        ServeError::NotLoopback(_) | ServeError::ShareUrl(_) => Failure::Usage(error.to_string()),
        _ => Failure::Data(error.to_string()),
    }
}

fn make_folder(data: &Path) -> Result<(), Failure> {
    let Some(folder) = data.parent().filter(|folder| !folder.as_os_str().is_empty()) else {
        return Ok(());
    };
    std::fs::create_dir_all(folder)
        .map_err(|error| Failure::Data(format!("the folder {} cannot be made: {error}", folder.display())))
}
