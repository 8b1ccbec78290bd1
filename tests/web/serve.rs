//! The two doors as they are opened on a real machine.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::Path;

use ebbline_tests::nine_on;
use server::{Clock, Config, ServeError, Server, ShareDoor};

fn config(folder: &Path) -> Config {
    let loopback = SocketAddr::from(([127, 0, 0, 1], 0));
    Config { data: folder.join("squad.db"), listen: loopback, share: Some(loopback), share_url: None }
}

async fn open(config: &Config) -> Result<Server, ServeError> {
    Server::open(config, Clock::fixed(nine_on("2027-04-20"))).await
}

/// The first line of an answer, asked over a real connection.
async fn status(address: SocketAddr, path: &'static str) -> String {
    let ask = move || {
        let mut stream = TcpStream::connect(address).expect("a connection");
        write!(stream, "GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").expect("a request");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer");
        answer.lines().next().unwrap_or_default().to_owned()
    };
    tokio::task::spawn_blocking(ask).await.expect("an answer")
}

#[tokio::test]
async fn both_doors_take_a_free_port_serve_and_stop_when_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let server = open(&config(folder.path())).await.expect("a server");
    let coach = server.address();
    let ShareDoor::Open { address: share, base } = server.share() else { panic!("the share door is closed") };
    assert_eq!(&*base, format!("http://{share}"));
    let (tell, told) = tokio::sync::oneshot::channel::<()>();
    let running = tokio::spawn(server.run(async {
        let _ = told.await;
    }));
    assert_eq!(status(coach, "/").await, "HTTP/1.1 200 OK");
    assert_eq!(status(share, "/healthz").await, "HTTP/1.1 200 OK");
    assert_eq!(status(share, "/").await, "HTTP/1.1 404 Not Found");
    tell.send(()).expect("a server that listens");
    running.await.expect("a server").expect("a clean end");
    assert!(TcpStream::connect(coach).is_err());
}

#[tokio::test]
async fn a_share_address_that_is_taken_does_not_stop_the_coach() {
    let folder = tempfile::tempdir().expect("a folder");
    let taken = TcpListener::bind(("127.0.0.1", 0)).expect("a port").local_addr().expect("an address");
    let held = TcpListener::bind(taken).expect("the port");
    let server = open(&Config { share: Some(taken), ..config(folder.path()) }).await.expect("a server");
    assert_eq!(server.share(), ShareDoor::Taken { address: taken });
    drop(held);
}

#[tokio::test]
async fn a_coach_address_that_others_can_reach_is_refused_before_the_file_is_made() {
    let folder = tempfile::tempdir().expect("a folder");
    for listen in ["0.0.0.0:0", "192.168.1.20:4650", "[::]:0"] {
        let listen = listen.parse().expect("an address");
        let refused = open(&Config { listen, ..config(folder.path()) }).await.expect_err("a refusal");
        assert!(matches!(refused, ServeError::NotLoopback(_)), "{refused}");
        assert!(refused.to_string().contains("Start on 127.0.0.1:"), "{refused}");
    }
    assert!(!folder.path().join("squad.db").exists());
}

#[tokio::test]
async fn with_a_pass_phrase_the_coach_may_listen_for_others_and_is_asked_for_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let listen = SocketAddr::from(([0, 0, 0, 0], 0));
    let open_to_all = Config { listen, share: None, ..config(folder.path()) };
    let store = store::Store::open(&open_to_all.data).await.expect("a data file");
    let refused = open(&open_to_all).await.expect_err("a refusal without a pass phrase");
    assert!(matches!(refused, ServeError::NotLoopback(_)), "{refused}");
    store
        .set_pass_phrase(Some("$argon2id$v=19$m=8,t=1,p=1$c2FsdHNhbHQ$aGFzaA"), nine_on("2027-04-20"))
        .await
        .expect("set");
    let server = open(&open_to_all).await.expect("a server");
    let address = server.address();
    assert!(address.ip().is_loopback(), "what is printed can be opened here");
    assert!(server.address_for_others().is_some_and(|others| others.port() == address.port()));
    let data = open_to_all.data.clone();
    let (tell, told) = tokio::sync::oneshot::channel::<()>();
    let running = tokio::spawn(server.run(async {
        let _ = told.await;
    }));
    assert_eq!(status(address, "/").await, "HTTP/1.1 303 See Other");
    assert_eq!(status(address, "/sign-in").await, "HTTP/1.1 200 OK");
    assert!(server::answers(address, &data).await, "a second start finds it");
    tell.send(()).expect("a server that listens");
    running.await.expect("a server").expect("a clean end");
}

#[tokio::test]
async fn what_the_coach_set_on_the_page_is_opened_at_the_next_start_unless_a_flag_says_otherwise() {
    let folder = tempfile::tempdir().expect("a folder");
    let free = TcpListener::bind(("127.0.0.1", 0)).expect("a port").local_addr().expect("an address");
    let store = store::Store::open(&folder.path().join("squad.db")).await.expect("a data file");
    store
        .save_sharing(store::Version(1), &free.to_string(), "https://runs.example", nine_on("2027-04-20"))
        .await
        .expect("saved");
    let server = open(&Config { share: None, ..config(folder.path()) }).await.expect("a server");
    assert_eq!(server.share(), ShareDoor::Open { address: free, base: "https://runs.example".into() });
    drop(server);
    let server = open(&config(folder.path())).await.expect("a server");
    assert!(matches!(server.share(), ShareDoor::Open { address, .. } if address != free));
}

#[tokio::test]
async fn a_coach_address_that_is_taken_is_named_with_a_way_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let held = TcpListener::bind(("127.0.0.1", 0)).expect("a port");
    let listen = held.local_addr().expect("an address");
    let refused = open(&Config { listen, ..config(folder.path()) }).await.expect_err("a refusal");
    assert!(matches!(refused, ServeError::InUse { address } if address == listen), "{refused}");
    assert!(refused.to_string().contains(&listen.to_string()));
}

#[tokio::test]
async fn a_share_url_stands_before_every_link() {
    let folder = tempfile::tempdir().expect("a folder");
    let share_url = Some("https://runs.example/".to_owned());
    let server = open(&Config { share_url, ..config(folder.path()) }).await.expect("a server");
    assert_eq!(server.share().base(), Some("https://runs.example"));
    let wrong = Config { share_url: Some("runs.example".to_owned()), ..config(folder.path()) };
    assert!(matches!(open(&wrong).await, Err(ServeError::ShareUrl(_))));
}

#[tokio::test]
async fn a_second_start_finds_the_first_by_its_data_file_and_no_other() {
    let folder = tempfile::tempdir().expect("a folder");
    let server = open(&config(folder.path())).await.expect("a server");
    let (coach, data) = (server.address(), folder.path().join("squad.db"));
    let ShareDoor::Open { address: share, .. } = server.share() else { panic!("the share door is closed") };
    let (tell, told) = tokio::sync::oneshot::channel::<()>();
    let running = tokio::spawn(server.run(async {
        let _ = told.await;
    }));
    assert!(server::answers(coach, &data).await);
    assert!(!server::answers(coach, &folder.path().join("other.db")).await);
    assert!(!server::answers(share, &data).await, "the athletes' door says nothing of the file");
    // The day's backup is made beside the first answers.
    let backups = folder.path().join("squad.db-backups");
    let count = || std::fs::read_dir(&backups).map_or(0, Iterator::count);
    for _ in 0..200 {
        if count() == 1 {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    assert_eq!(count(), 1);
    tell.send(()).expect("a server that listens");
    running.await.expect("a server").expect("a clean end");
    assert!(!server::answers(coach, &data).await);
}
