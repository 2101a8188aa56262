//! Every link of the documentation leads somewhere: to a file that is there, and to a
//! heading that it has.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

fn pages() -> Vec<PathBuf> {
    let mut pages = Vec::new();
    for folder in [root(), root().join("docs")] {
        let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        pages.extend(entries.filter(|path| path.extension().is_some_and(|it| it == "md")));
    }
    pages.sort();
    pages
}

/// A page without its blocks of code and its bits of code, in which brackets mean nothing.
fn prose(page: &str) -> String {
    let mut text = String::new();
    let mut in_code = false;
    for line in page.lines() {
        if line.trim_start().starts_with("```") {
            in_code = !in_code;
        } else if !in_code {
            text.extend(line.split('`').step_by(2));
            text.push('\n');
        }
    }
    text
}

/// Where the links of a page lead.
fn targets(page: &str) -> Vec<String> {
    let text = prose(page);
    text.match_indices("](")
        .filter_map(|(at, _)| text[at + 2..].split_once(')'))
        .map(|(target, _)| target.to_owned())
        .collect()
}

/// The anchors of a page's headings, as code hosts make them.
fn anchors(page: &str) -> Vec<String> {
    let mut in_code = false;
    let mut anchors: Vec<String> = Vec::new();
    for line in page.lines() {
        if line.starts_with("```") {
            in_code = !in_code;
        }
        let Some(heading) = line.strip_prefix('#').filter(|_| !in_code) else { continue };
        let kept = heading.trim_start_matches('#').trim().to_lowercase();
        let anchor: String = kept
            .chars()
            .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'))
            .map(|c| if c == ' ' { '-' } else { c })
            .collect();
        let before = anchors.iter().filter(|other| **other == anchor).count();
        anchors.push(if before > 0 { format!("{anchor}-{before}") } else { anchor });
    }
    anchors
}

/// What is wrong with a link of a page, if anything.
fn fault(from: &Path, target: &str) -> Option<String> {
    if target.starts_with("https://") || target.starts_with("http://") {
        return None;
    }
    let (file, anchor) = target.split_once('#').unwrap_or((target, ""));
    let path = if file.is_empty() { from.to_owned() } else { from.parent().unwrap().join(file) };
    if !path.exists() {
        return Some(format!("there is no {file}"));
    }
    let heading_is_there =
        || anchors(&std::fs::read_to_string(&path).unwrap()).iter().any(|it| it == anchor);
    (!anchor.is_empty() && !heading_is_there()).then(|| format!("{file} has no #{anchor}"))
}

#[test]
fn every_link_leads_somewhere() {
    let mut seen = 0;
    let mut dead = Vec::new();
    for page in pages() {
        for target in targets(&std::fs::read_to_string(&page).unwrap()) {
            seen += 1;
            let fault = fault(&page, &target);
            dead.extend(fault.map(|fault| format!("{}: {fault}", page.display())));
        }
    }
    assert!(dead.is_empty(), "dead links:\n{}", dead.join("\n"));
    assert!(seen >= 15, "only {seen} links were found");
}

#[test]
fn every_page_can_be_reached_from_the_first() {
    let mut reached = vec![root().join("README.md")];
    let mut next = 0;
    while next < reached.len() {
        let page = reached[next].clone();
        next += 1;
        for target in targets(&std::fs::read_to_string(&page).unwrap()) {
            let file = target.split('#').next().unwrap_or_default();
            let path = page.parent().unwrap().join(file);
            if file.ends_with(".md") && path.exists() {
                let path = path.canonicalize().unwrap();
                if !reached.iter().any(|one| one.canonicalize().unwrap() == path) {
                    reached.push(path);
                }
            }
        }
    }
    let names: Vec<_> = reached.iter().map(|page| page.file_name().unwrap()).collect();
    for page in pages() {
        let name = page.file_name().unwrap();
        assert!(names.contains(&name), "nothing leads to {}", page.display());
    }
}

#[test]
fn a_dead_link_is_seen() {
    let page = root().join("README.md");
    assert!(fault(&page, "docs/velvet.md").is_some());
    assert!(fault(&page, "docs/design-file.md#velvet").is_some());
    assert!(fault(&page, "docs/design-file.md#every-dimension").is_none());
    assert_eq!(targets("a [b](c.md) `[d](e.md)`\n```\n[f](g.md)\n```\n"), ["c.md"]);
    assert_eq!(anchors("# A, b!\n## A b\n```\n# c\n```\n"), ["a-b", "a-b-1"]);
}
