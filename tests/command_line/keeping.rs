use std::{fs, process::Command};

use super::{doorside, on, told};

/// A history as one file, a backup while nothing else is asked of the folder, and both brought elsewhere.
#[test]
fn what_is_kept_elsewhere_stands_there() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    assert!(on(&data, &["demo"]).status.success());
    let trust = data.join("exports/authority.pem");
    let trust = trust.to_str().unwrap();

    let bundle = on(&data, &["history", "1008", "--format", "pdf"]);
    assert!(bundle.status.success(), "{}", String::from_utf8_lossy(&bundle.stderr));
    let file = folder.path().join("history.pdf");
    fs::write(&file, &bundle.stdout).unwrap();
    let file = file.to_str().unwrap();
    let verified = doorside(["record", "verify", file, "--trust", trust]);
    assert_eq!(verified.status.code(), Some(0), "{}", told(&verified));
    assert!(told(&verified).contains("holds: the attached "), "{}", told(&verified));
    let signatures = Command::new("pdfsig").arg("-nocert").arg(file).output().expect("pdfsig starts");
    let signatures = String::from_utf8_lossy(&signatures.stdout).into_owned();
    assert!(signatures.contains("Signature is Valid."), "{signatures}");
    let table = told(&on(&data, &["history", "1008", "--format", "csv"]));
    assert!(table.contains("observer current then"), "{table}");

    let backup = folder.path().join("backup.zip");
    let backup = backup.to_str().unwrap();
    let made = on(&data, &["backup", backup]);
    assert_eq!(made.status.code(), Some(0), "{}", String::from_utf8_lossy(&made.stderr));
    assert_eq!(on(&data, &["backup", backup]).status.code(), Some(2), "it takes the place of nothing");
    let elsewhere = folder.path().join("elsewhere");
    let restored = on(&elsewhere, &["restore", backup]);
    assert_eq!(restored.status.code(), Some(0), "{}", String::from_utf8_lossy(&restored.stderr));
    assert_eq!(on(&elsewhere, &["ledger", "check"]).status.code(), Some(0));
    let here = told(&on(&data, &["history", "1008"]));
    assert_eq!(told(&on(&elsewhere, &["history", "1008"])), here, "the same history");
    assert_eq!(
        on(&data, &["restore", backup]).status.code(),
        Some(2),
        "a folder in use is not restored into"
    );

    let mut bytes = fs::read(backup).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(backup, bytes).unwrap();
    let refused = on(&folder.path().join("third"), &["restore", backup]);
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(said.contains("nothing was restored"), "{said}");
    assert!(!folder.path().join("third").exists(), "nothing is left of it");
}
