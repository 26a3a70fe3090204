//! Programs that end with the test, whatever ends it.

use std::io::{BufRead, BufReader, Write, sink};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// The folder is told it, so that nobody takes it for a program of the profile. What a browser still
/// writes as it ends would bring the folder back: it is taken away several times.
const WATCH: &str = "read -r folder; read -r; exec setsid bash -c 'read -r folder; kill -9 -- -$1
    for _ in 1 2 3 4 5 6; do sleep 0.5; rm -rf -- \"$folder\"; done' end $$ <<<\"$folder\"";

/// A group of processes. Its first one only waits until nobody holds its input any more, as happens
/// when this is dropped and also when the tests themselves are ended; then another one, outside, ends
/// the whole group and takes its folder away.
#[derive(Debug)]
pub struct Group {
    watch: Child,
    others: Vec<Child>,
}

impl Group {
    /// A group of the watch alone, whose programs keep what they have in `folder`.
    pub fn new(folder: &Path) -> Self {
        let mut watch = Command::new("bash");
        watch.args(["-c", WATCH]).process_group(0);
        watch.stdin(Stdio::piped()).stdout(Stdio::null()).stderr(Stdio::null());
        let mut watch = watch.spawn().expect("bash is installed");
        let told = watch.stdin.as_mut().expect("it is piped");
        writeln!(told, "{}", folder.display()).expect("it listens");
        Self { watch, others: Vec::new() }
    }

    /// Starts a program in the group. Gives its number and the first line it prints with `mark` in
    /// it, from the mark's end on; `None` if it ended before it printed that.
    pub fn start(&mut self, command: &mut Command, mark: &str) -> Option<(u32, String)> {
        let leader = i32::try_from(self.watch.id()).expect("a process's number");
        command.process_group(leader).stdin(Stdio::null()).stderr(Stdio::null());
        let name = command.get_program().display().to_string();
        let mut child = command.stdout(Stdio::piped()).spawn().unwrap_or_else(|error| {
            panic!("{name} does not start ({error}): run `tests/run browser`, which installs it")
        });
        let mut printed = BufReader::new(child.stdout.take().expect("it is piped"));
        let number = child.id();
        self.others.push(child);
        let mut line = String::new();
        while printed.read_line(&mut line).is_ok_and(|read| read > 0) {
            if let Some((_, rest)) = line.split_once(mark) {
                let rest = rest.trim_end().to_owned();
                // A program that cannot print any more ends, or waits until it can.
                std::thread::spawn(move || std::io::copy(&mut printed, &mut sink()));
                return Some((number, rest));
            }
            line.clear();
        }
        None
    }

    /// Ends one program of the group at once.
    pub fn end(&mut self, number: u32) {
        if let Some(at) = self.others.iter().position(|child| child.id() == number) {
            let mut child = self.others.swap_remove(at);
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

impl Drop for Group {
    fn drop(&mut self) {
        drop(self.watch.stdin.take());
        let _ = self.watch.wait();
        for child in &mut self.others {
            let _ = child.wait();
        }
    }
}
