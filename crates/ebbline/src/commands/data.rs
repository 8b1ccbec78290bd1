//! `ebbline backup`, `restore` and `check`: care of the data file.

use std::path::{Path, PathBuf};

use clap::Args;
use store::Store;

use super::Failure;

/// Copies the data file, also while the app is running.
#[derive(Args, Debug)]
pub(crate) struct BackupArguments {
    /// The copy to make; it must not exist yet.
    file: PathBuf,
    #[command(flatten)]
    data: DataFile,
}

/// Puts a backup in the place of the data file, after checking it. The old file is kept beside it.
#[derive(Args, Debug)]
pub(crate) struct RestoreArguments {
    /// The backup.
    file: PathBuf,
    #[command(flatten)]
    data: DataFile,
}

/// Reads the whole data file and says what is wrong with it.
#[derive(Args, Debug)]
pub(crate) struct CheckArguments {
    #[command(flatten)]
    data: DataFile,
}

#[derive(Args, Debug)]
pub(super) struct DataFile {
    /// The data file; by default where this machine keeps user data.
    #[arg(long, value_name = "FILE", env = "EBBLINE_DATA")]
    data: Option<PathBuf>,
}

impl DataFile {
    fn path(&self) -> Result<PathBuf, Failure> {
        super::data_file(self.data.as_deref())
    }

    /// A data file that is there already: these commands never make one.
    pub(super) fn existing(&self) -> Result<PathBuf, Failure> {
        let path = self.path()?;
        if path.is_file() {
            Ok(path)
        } else {
            Err(Failure::Data(format!("there is no data file at {}", path.display())))
        }
    }
}

pub(crate) fn backup(arguments: &BackupArguments) -> Result<(), Failure> {
    let data = arguments.data.existing()?;
    super::block_on(async {
        let store = open(&data).await?;
        let copied = store.backup(&arguments.file).await;
        store.close().await;
        copied.map_err(|error| Failure::Data(server::said(&error)))?;
        println!("{} was copied to {}", data.display(), arguments.file.display());
        Ok(())
    })
}

pub(crate) fn restore(arguments: &RestoreArguments) -> Result<(), Failure> {
    let data = arguments.data.path()?;
    super::block_on(async {
        let kept = store::restore(&arguments.file, &data).await.map_err(|error| {
            Failure::Data(format!("{} was not restored. {}", arguments.file.display(), server::said(&error)))
        })?;
        println!("{} is now what {} was", data.display(), arguments.file.display());
        if let Some(kept) = kept {
            println!("The file that stood there is kept at {}", kept.display());
        }
        Ok(())
    })
}

pub(crate) fn check(arguments: &CheckArguments) -> Result<(), Failure> {
    let data = arguments.data.existing()?;
    super::block_on(async {
        let store = open(&data).await?;
        let found = store.check().await;
        store.close().await;
        let found = found.map_err(|error| Failure::Data(server::said(&error)))?;
        if found.is_empty() {
            println!("{} is well: every record can be read", data.display());
            return Ok(());
        }
        Err(Failure::Data(found.join("\n")))
    })
}

pub(super) async fn open(data: &Path) -> Result<Store, Failure> {
    Store::open(data).await.map_err(|error| Failure::Data(server::said(&error)))
}
