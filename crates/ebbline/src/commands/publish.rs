//! `ebbline publish`: every shared block as static files in a folder.

use std::path::PathBuf;

use clap::Args;
use server::Clock;

use super::Failure;
use super::data::DataFile;

/// Writes every shared block into a folder for any web host: a page and a calendar each. Run it again
/// at any time: it takes away what is no longer shared, and touches only files that it wrote.
#[derive(Args, Debug)]
pub(crate) struct Arguments {
    /// The folder; made if it does not exist.
    #[arg(value_name = "DIR")]
    folder: PathBuf,
    #[command(flatten)]
    data: DataFile,
}

pub(crate) fn run(arguments: &Arguments) -> Result<(), Failure> {
    let data = arguments.data.existing()?;
    super::block_on(async {
        let store = super::data::open(&data).await?;
        let done = server::publish(&store, Clock::system(), &arguments.folder).await;
        store.close().await;
        for line in done.map_err(|error| Failure::Data(error.to_string()))?.lines() {
            println!("{line}");
        }
        Ok(())
    })
}
