//! `ebbline demo`: the app on a throw-away data file with the demo squad.

use clap::Args;
use server::Clock;

use super::Failure;
use super::serve::{self, Doors};

/// Serves an invented squad on a data file that is thrown away at the end, its dates set around today.
#[derive(Args, Debug)]
pub(crate) struct Arguments {
    #[command(flatten)]
    doors: Doors,
}

pub(crate) fn run(arguments: &Arguments) -> Result<(), Failure> {
    let folder = tempfile::Builder::new()
        .prefix("ebbline-demo-")
        .tempdir()
        .map_err(|error| Failure::Data(format!("a temporary folder cannot be made: {error}")))?;
    let config = arguments.doors.config(folder.path().join("demo.db"));
    super::block_on(async {
        let server = serve::open(&config).await?;
        let clock = Clock::system();
        store::fill_demo(server.store(), clock.today(), clock.now())
            .await
            .map_err(|error| Failure::Data(server::said(&error)))?;
        serve::say(&server, &config.data);
        println!("This is a demo: everybody in it is invented, and what you change is thrown away at the end.");
        if arguments.doors.opens_browser() {
            super::browser::open(&serve::address(&server));
        }
        server.run(server::stop_signal()).await.map_err(|error| serve::failure(&error))
    })
}
