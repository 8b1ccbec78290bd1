//! Builds an empty data file from the migrations, against which every query of this crate is checked
//! as it compiles: no tool to install, and a renamed column is a compile error.

use std::error::Error;
use std::path::{Path, PathBuf};

use sqlx::ConnectOptions;
use sqlx::migrate::Migrator;
use sqlx::sqlite::SqliteConnectOptions;

fn main() -> Result<(), Box<dyn Error>> {
    let migrations = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../migrations");
    // Without this line a new migration alone would rebuild nothing.
    println!("cargo::rerun-if-changed={}", migrations.display());
    println!("cargo::rerun-if-changed=build.rs");

    let schema = PathBuf::from(std::env::var_os("OUT_DIR").ok_or("cargo sets OUT_DIR")?).join("schema.db");
    if schema.exists() {
        std::fs::remove_file(&schema)?;
    }
    tokio::runtime::Builder::new_current_thread().enable_all().build()?.block_on(build(&migrations, &schema))?;

    // Only these three characters mean something else in the address of a file.
    let address = schema.display().to_string().replace('%', "%25").replace('?', "%3F").replace('#', "%23");
    println!("cargo::rustc-env=DATABASE_URL=sqlite://{address}");
    println!("cargo::rustc-env=SQLX_OFFLINE=false");
    Ok(())
}

async fn build(migrations: &Path, schema: &Path) -> Result<(), Box<dyn Error>> {
    let migrator = Migrator::new(migrations).await?;
    let mut connection = SqliteConnectOptions::new().filename(schema).create_if_missing(true).connect().await?;
    migrator.run_direct(None, &mut connection, false).await?;
    Ok(())
}
