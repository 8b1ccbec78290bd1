//! Killed in the middle of writes, again and again: nothing acknowledged is lost.

use std::collections::HashSet;
use std::net::SocketAddr;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use store::Store;
use uuid::Uuid;

use crate::client::post;
use crate::program::{Program, assert_well};
use crate::{Dice, asked};

/// What one client knows: names that were acknowledged, and the count on its own athlete.
#[derive(Default)]
struct Told {
    names: Vec<String>,
    acknowledged: u64,
    tried: u64,
}

/// Adds athletes and counts on one of them, for as long as the program answers.
fn write(address: SocketAddr, round: u64, client: u64, stop: &AtomicBool) -> Told {
    let mut told = Told::default();
    let Some(own) = add(address, &format!("own {round}-{client}")) else {
        return told;
    };
    told.names.push(format!("own {round}-{client}"));
    while !stop.load(Ordering::Relaxed) {
        let name = format!("athlete {round}-{client}-{}", told.tried);
        if add(address, &name).is_some() {
            told.names.push(name);
        }
        told.tried += 1;
        let (version, group) = (told.tried.to_string(), told.tried.to_string());
        let name = format!("own {round}-{client}");
        let fields = [("version", version.as_str()), ("name", &name), ("units", "km"), ("group", &group)];
        match post(address, &own, &fields) {
            Some(answer) if answer.status == 303 => told.acknowledged = told.tried,
            Some(answer) => panic!("a save was answered with {}: {}", answer.status, answer.body),
            None => break,
        }
    }
    told
}

/// Adds an athlete; gives its address where that was acknowledged.
fn add(address: SocketAddr, name: &str) -> Option<String> {
    let once = Uuid::new_v4().to_string();
    let answer = post(address, "/athletes", &[("once", &once), ("name", name), ("units", "km")])?;
    assert_eq!(answer.status, 303, "{}", answer.body);
    Some(answer.location)
}

#[test]
fn nothing_acknowledged_is_lost_when_the_program_is_killed() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("squad.db");
    let mut dice = Dice(1);
    let (mut names, mut rounds_with_writes) = (HashSet::new(), 0);
    let rounds = asked("EBBLINE_ROUNDS", 10);
    for round in 0..rounds {
        let mut program = Program::start(&data);
        let (address, stop) = (program.address, AtomicBool::new(false));
        let all: Vec<Told> = std::thread::scope(|scope| {
            let clients: Vec<_> = (0..4)
                .map(|client| {
                    let stop = &stop;
                    scope.spawn(move || write(address, round, client, stop))
                })
                .collect();
            std::thread::sleep(Duration::from_millis(30 + dice.below(250)));
            program.kill();
            stop.store(true, Ordering::Relaxed);
            clients.into_iter().map(|client| client.join().expect("a client")).collect()
        });
        rounds_with_writes += u64::from(all.iter().any(|told| told.acknowledged > 0));
        assert_well(&data, &format!("round {round}"));
        names.extend(all.iter().flat_map(|told| told.names.clone()));
        compare(&data, round, &all, &names);
    }
    println!("{rounds} rounds, {} writes acknowledged, none lost", names.len());
    assert!(rounds_with_writes * 2 > rounds, "most rounds have to be killed in the middle of writes");
}

/// What the file holds after the kill, beside what was acknowledged.
fn compare(data: &Path, round: u64, all: &[Told], names: &HashSet<String>) {
    let runtime = tokio::runtime::Runtime::new().expect("a runtime");
    let kept = runtime.block_on(async {
        let store = Store::open(data).await.expect("a data file");
        let kept = store.athletes().await.expect("athletes");
        store.close().await;
        kept
    });
    let there: HashSet<&str> = kept.iter().map(|athlete| athlete.draft.athlete.name.as_str()).collect();
    let lost: Vec<&String> = names.iter().filter(|name| !there.contains(name.as_str())).collect();
    assert!(lost.is_empty(), "round {round}: lost {lost:?}");
    for (client, told) in all.iter().enumerate() {
        let own = kept.iter().find(|athlete| athlete.draft.athlete.name == format!("own {round}-{client}"));
        let count = own.map_or(0, |own| own.draft.group.parse::<u64>().unwrap_or(0));
        assert!(
            (told.acknowledged..=told.tried).contains(&count),
            "round {round}, client {client}: {count} is kept, {} was acknowledged of {} tried",
            told.acknowledged,
            told.tried
        );
    }
}
