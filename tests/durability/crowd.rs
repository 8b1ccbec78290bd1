//! Sixteen clients on the same four athletes: no failure, no lost update.

use std::net::SocketAddr;
use std::time::{Duration, Instant};

use crate::asked;
use crate::client::{get, post, value};
use crate::program::{Program, assert_well};

/// The number in front of what a client wrote.
fn counted(group: &str) -> u64 {
    group.split(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0)
}

/// Counts one up on an athlete again and again; gives how often that was acknowledged and how often refused.
///
/// Each client writes its own number beside the count: two stale forms that say the same would lose nothing.
fn count_up(address: SocketAddr, athlete: &str, client: usize, until: Instant) -> (u64, u64) {
    let (mut acknowledged, mut refused) = (0, 0);
    while Instant::now() < until {
        let page = get(address, &format!("{athlete}/edit")).expect("a page");
        assert_eq!(page.status, 200, "{}", page.body);
        let (version, name) = (value(&page.body, "version"), value(&page.body, "name"));
        let next = format!("{} of {client}", counted(&value(&page.body, "group")) + 1);
        let fields = [("version", version.as_str()), ("name", &name), ("units", "km"), ("group", &next)];
        let answer = post(address, athlete, &fields).expect("an answer");
        match answer.status {
            303 => acknowledged += 1,
            409 => {
                assert!(answer.body.contains("Changed meanwhile"), "{}", answer.body);
                assert_eq!(value(&answer.body, "group"), next, "what was typed is still there");
                refused += 1;
            }
            other => panic!("a save was answered with {other}: {}", answer.body),
        }
    }
    (acknowledged, refused)
}

#[test]
fn sixteen_clients_at_once_lose_no_update_and_see_no_failure() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("squad.db");
    let program = Program::start(&data);
    let address = program.address;
    let athletes: Vec<String> = (0..4)
        .map(|number| {
            let name = format!("Athlete {number}");
            post(address, "/athletes", &[("name", &name), ("units", "km")]).expect("an answer").location
        })
        .collect();
    let until = Instant::now() + Duration::from_secs(asked("EBBLINE_SECONDS", 3));
    let counts: Vec<(u64, u64)> = std::thread::scope(|scope| {
        let clients: Vec<_> = (0..16)
            .map(|client| {
                let athlete = &athletes[client % athletes.len()];
                scope.spawn(move || count_up(address, athlete, client, until))
            })
            .collect();
        clients.into_iter().map(|client| client.join().expect("a client")).collect()
    });
    let mut refused = 0;
    for (number, athlete) in athletes.iter().enumerate() {
        let here: Vec<&(u64, u64)> = counts.iter().skip(number).step_by(athletes.len()).collect();
        let page = get(address, &format!("{athlete}/edit")).expect("a page");
        let sum: u64 = here.iter().map(|(acknowledged, _)| acknowledged).sum();
        assert_eq!(counted(&value(&page.body, "group")), sum, "{athlete}");
        assert!(sum > 0, "{athlete}");
        refused += here.iter().map(|(_, refused)| refused).sum::<u64>();
    }
    let acknowledged: u64 = counts.iter().map(|(acknowledged, _)| acknowledged).sum();
    println!("{acknowledged} saves acknowledged, {refused} stale ones refused, none lost");
    assert!(refused > 0, "clients have to meet");
    drop(program);
    assert_well(&data, "after the crowd");
}
