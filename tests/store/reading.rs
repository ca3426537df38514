//! What may be read, and what a path in a file may name.

use crate::disks::*;
use marram::store::*;
use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn what_is_no_regular_file_of_its_size_is_refused_before_reading() {
    let dir = folder();
    let at = |name: &str| dir.path().join(name);
    let trouble = |path: &Path| read(path, Limit::YAML).unwrap_err().trouble;

    assert_eq!(trouble(&at("none.yaml")), Trouble::Missing);
    assert_eq!(trouble(dir.path()), Trouble::WrongSort);
    assert_eq!(trouble(Path::new("/dev/zero")), Trouble::NotRegular);
    assert!(Command::new("mkfifo").arg(at("pipe.yaml")).status().unwrap().success());
    assert_eq!(trouble(&at("pipe.yaml")), Trouble::NotRegular);

    let large = fs::File::create(at("large.yaml")).unwrap();
    large.set_len(100 << 20).unwrap();
    let error = read(&at("large.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(error.trouble, Trouble::TooLarge);
    assert!(error.to_string().contains("larger than 4 MiB"), "{error}");
    assert!(read(&at("large.yaml"), Limit::MAP).unwrap_err().to_string().contains("64 MiB"));

    large.set_len(4 << 20).unwrap();
    assert_eq!(read(&at("large.yaml"), Limit::YAML).unwrap().bytes.len(), 4 << 20, "the limit itself is allowed");

    fs::write(at("latin.yaml"), b"format: player/1\nname: J\xf6rn\n").unwrap();
    let error = read_text(&at("latin.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(error.trouble, Trouble::NotText);
    assert!(error.to_string().contains("byte \\xf6 at line 2, column 8"), "{error}");
}

#[test]
fn an_error_names_place_cause_and_cure_and_carries_no_escape() {
    let error = read(Path::new("/nowhere/a\u{1b}[2Jb.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(
        error.to_string(),
        "/nowhere/a\\x1b[2Jb.yaml: there is no such file or folder; check the name and the folder"
    );
}

#[cfg(unix)]
#[test]
fn a_path_in_a_notebook_never_leads_out_of_its_folder() {
    use std::os::unix::fs::symlink;
    let dir = folder();
    let home = dir.path().join("courses");
    fs::create_dir_all(home.join("maps")).unwrap();
    fs::write(dir.path().join("secret"), "s").unwrap();
    fs::write(home.join("maps/corvane.geojson"), "{}").unwrap();
    symlink("../secret", home.join("out.geojson")).unwrap();
    symlink("maps/corvane.geojson", home.join("in.geojson")).unwrap();
    symlink("..", home.join("up")).unwrap();
    let notebook = home.join("corvane.yaml");
    let real = fs::canonicalize(home.join("maps/corvane.geojson")).unwrap();

    for inside in ["maps/corvane.geojson", "./maps/corvane.geojson", "in.geojson"] {
        assert_eq!(beside(&notebook, inside).unwrap(), real, "{inside}");
    }
    let absolute = real.to_str().unwrap();
    for outside in [
        "../secret",
        "maps/../../secret",
        "maps/../maps/corvane.geojson",
        "..\\secret",
        "/etc/passwd",
        "\\\\host\\share",
        "C:\\secret",
        absolute,
        "out.geojson",
        "up/secret",
        "",
        "a\0b",
    ] {
        assert_eq!(beside(&notebook, outside).unwrap_err().trouble, Trouble::Outside, "{outside:?}");
    }
    assert_eq!(beside(&notebook, "none.geojson").unwrap_err().trouble, Trouble::Missing);
}
