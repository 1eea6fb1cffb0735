//! Two servers on one folder.

use std::io::{BufRead as _, BufReader};

use records::{DataKey, Error, NewRecord, Store};

use crate::Writer;
use crate::common::{SqliteFolder, new_record, start};

#[tokio::test]
async fn a_second_server_in_another_process_is_refused_until_that_one_dies() {
    let _alone = crate::ONE_AT_A_TIME.lock().await;
    let engine = SqliteFolder::fresh();
    let dir = engine.dir.path();
    let new = NewRecord {
        key: Some(DataKey::from_bytes(&[7; 32])),
        ..new_record()
    };
    Store::create(dir, &new, start())
        .await
        .unwrap()
        .store
        .close()
        .await;
    let id = "0190f7c2-0000-7000-8000-000000000001";
    let mut server = Writer::start(dir, id, id, "hold");
    let mut line = String::new();
    BufReader::new(server.output())
        .read_line(&mut line)
        .unwrap();
    assert_eq!(line, "open\n");
    assert!(matches!(
        Store::open(dir).await,
        Err(Error::AlreadyRunning { .. })
    ));
    // A backup is taken beside it all the same.
    records::backup(dir, &dir.join("out.backup")).await.unwrap();
    // However the process ends, the folder is free afterwards.
    server.kill();
    Store::open(dir).await.unwrap();
}
