//! Where the shelf is and how a name is found on it.

use crate::disks::*;
use marram::store::*;
use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn a_name_is_looked_up_here_and_then_on_the_shelf() {
    let (shelf_dir, here) = (folder(), folder());
    let shelf = Shelf::at(shelf_dir.path());
    for (path, format) in [
        ("corvane.yaml", "course-notebook/1"),
        ("corvane.wren.yaml", "notebook-layer/1"),
        ("players/wren.yaml", "player/1"),
        ("players/corvane.yaml", "player/1"),
        ("days/2026-05-16-corvane.yaml", "day-sheet/1"),
        ("competitions/spring/competition.yaml", "competition/1"),
    ] {
        let path = shelf_dir.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, format!("# by hand\nformat: {format} # a kind\n")).unwrap();
    }
    let find = |sort, name: &str| shelf.find(sort, name, here.path());
    let on_shelf = |name: &str| shelf_dir.path().join(name);

    assert_eq!(find(Sort::Notebook, "corvane").unwrap(), on_shelf("corvane.yaml"));
    assert_eq!(find(Sort::Notebook, "Corvane").unwrap(), on_shelf("corvane.yaml"));
    assert_eq!(find(Sort::Player, "wren").unwrap(), on_shelf("players/wren.yaml"));
    assert_eq!(find(Sort::Competition, "spring").unwrap(), on_shelf("competitions/spring"));
    let names = |sort| shelf.list(sort).unwrap().into_iter().map(|f| f.name).collect::<Vec<_>>();
    assert_eq!(names(Sort::Notebook), ["corvane"], "a layer is no notebook");
    assert_eq!(names(Sort::Player), ["corvane", "wren"]);

    fs::write(here.path().join("corvane.yaml"), "format: course-notebook/1\n").unwrap();
    assert_eq!(find(Sort::Notebook, "corvane").unwrap(), here.path().join("corvane.yaml"), "here goes first");
    assert_eq!(
        find(Sort::Player, "corvane").unwrap(),
        on_shelf("players/corvane.yaml"),
        "a notebook here is no player"
    );
    assert_eq!(find(Sort::Player, "./corvane.yaml").unwrap(), here.path().join("./corvane.yaml"), "a path is a path");

    let error = find(Sort::Player, "wern").unwrap_err();
    assert!(error.to_string().contains("no player named `wern`") && error.cure == "did you mean `wren`?", "{error}");
    let error = find(Sort::Player, "zzz").unwrap_err();
    assert_eq!(error.cure, "there are: corvane, wren");
    let error = find(Sort::Day, "heath").unwrap_err();
    assert_eq!(error.cure, "there are: 2026-05-16-corvane");
    let error = find(Sort::Round, "a").unwrap_err();
    assert_eq!(error.cure, "there is none yet; `marram new round NAME` writes one");
    let error = find(Sort::Notebook, "./corvnae.yaml").unwrap_err();
    assert_eq!((error.trouble, error.cure.as_str()), (Trouble::Missing, "did you mean `corvane.yaml`?"));
}

#[test]
fn a_pipe_on_the_shelf_hangs_nobody() {
    let dir = folder();
    assert!(Command::new("mkfifo").arg(dir.path().join("corvane.yaml")).status().unwrap().success());
    let shelf = Shelf::at(dir.path());
    assert_eq!(shelf.list(Sort::Notebook).unwrap(), []);
    assert_eq!(shelf.find(Sort::Notebook, "corvane", dir.path()).unwrap_err().trouble, Trouble::UnknownName);
}

#[test]
fn looking_makes_nothing() {
    let dir = folder();
    let root = dir.path().join("not there");
    let store = Store::new(Shelf::at(&root));
    let (mut settings, trouble) = store.settings();
    assert_eq!(trouble, None);
    store.save_settings(&mut settings).unwrap();
    for sort in [Sort::Notebook, Sort::Player, Sort::Day, Sort::Round, Sort::Competition] {
        assert_eq!(store.shelf().list(sort).unwrap(), []);
        store.shelf().find(sort, "corvane", &root).unwrap_err();
    }
    let id = store.next_round_id("2026-05-16", "Corvane Links");
    assert!(store.open_round(&store.round_log(&id), silent()).is_err());
    assert!(!root.exists());
}

/// Not a test by itself: says where the shelf is, in a process with the variables that the next test sets.
#[test]
fn child_says_where_the_shelf_is() {
    if std::env::var_os("MARRAM_TEST_SHELF").is_some() {
        println!("shelf={}", Shelf::locate(None).unwrap().root().display());
        let option = Shelf::locate(Some(Path::new("/from/option"))).unwrap();
        println!("option={}", option.root().display());
    }
}

#[cfg(target_os = "linux")]
#[test]
fn the_shelf_is_where_option_variable_or_system_say() {
    let place = |set: &[(&str, &str)]| {
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.args(["--exact", "places::child_says_where_the_shelf_is", "--nocapture"]);
        command.env("MARRAM_TEST_SHELF", "1").env_remove("MARRAM_FOLDER").env_remove("XDG_DATA_HOME");
        command.env("HOME", "/home/wren").envs(set.iter().copied());
        let text = String::from_utf8(command.output().unwrap().stdout).unwrap();
        assert!(text.contains("option=/from/option\n"), "the option wins: {text}");
        text.lines().find_map(|l| l.split_once("shelf=")).unwrap().1.to_owned()
    };
    assert_eq!(place(&[]), "/home/wren/.local/share/marram");
    assert_eq!(place(&[("XDG_DATA_HOME", "/data")]), "/data/marram");
    assert_eq!(place(&[("MARRAM_FOLDER", "/my/shelf"), ("XDG_DATA_HOME", "/data")]), "/my/shelf");
    assert_eq!(place(&[("MARRAM_FOLDER", "")]), "/home/wren/.local/share/marram");
}
