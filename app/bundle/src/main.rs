//! Finishes a build of the page, and serves it for trying out.
//!
//! `bundle finish` is called by Trunk when the files are written: it makes shorter what only people
//! read, puts the content security policy into the page, tells the worker which files to keep, and
//! measures what a phone downloads.
//! `bundle serve` hands the finished folder to a browser as any plain static host would.

mod alike;
mod digest;
mod files;
mod finish;
mod joined;
mod markup;
mod names;
mod plain;
mod policy;
mod precache;
mod serve;
mod shell;
mod sizes;
mod tokens;

use std::env;
use std::error::Error;
use std::io::{self, Write as _};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "\
usage: bundle finish                          called by Trunk, which sets TRUNK_STAGING_DIR
       bundle serve --dir FOLDER --port PORT  serves FOLDER on this machine
";

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match arguments.as_slice() {
        ["finish"] => finish_build(),
        ["serve", "--dir", folder, "--port", port] => serve_build(Path::new(folder), port),
        _ => Err(USAGE.into()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            // There is nobody left to tell when the error stream is closed.
            let _ = writeln!(io::stderr(), "bundle: {failure}");
            ExitCode::FAILURE
        }
    }
}

fn finish_build() -> Result<(), Box<dyn Error>> {
    let folder = env::var_os("TRUNK_STAGING_DIR")
        .map(PathBuf::from)
        .ok_or("TRUNK_STAGING_DIR is not set: `bundle finish` is called by Trunk")?;
    let optimised = env::var("TRUNK_PROFILE").is_ok_and(|profile| profile == "release");
    let said = finish::finish(&folder, optimised)?;
    io::stdout().write_all(said.as_bytes())?;
    Ok(())
}

fn serve_build(folder: &Path, port: &str) -> Result<(), Box<dyn Error>> {
    let port: u16 = port.parse().map_err(|_| format!("{port} is not a port"))?;
    let folder = folder.canonicalize().map_err(|cause| format!("{}: {cause}", folder.display()))?;
    // Only this machine: a phone comes in by USB forwarding or through the encrypted port.
    let listener =
        TcpListener::bind(("127.0.0.1", port)).map_err(|cause| format!("port {port}: {cause}"))?;
    serve::serve(&listener, &folder);
    Ok(())
}
