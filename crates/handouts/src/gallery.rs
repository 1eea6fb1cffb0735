//! A page that shows the figures of many exercises in motion: for whoever writes movements, or wants to see what there is.

use crate::look;
use maud::{DOCTYPE, PreEscaped, html};

/// Style of the page beside the tokens.
const STYLE: &str = include_str!("../look/gallery.css");

/// One exercise of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The variants that move.
    pub ways: Vec<Way>,
}

/// One variant with its pictures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// Its id.
    pub id: String,
    /// How it differs, in words.
    pub way: String,
    /// From the page to the folder of its pictures.
    pub folder: String,
    /// Names of the pictures in that folder.
    pub pictures: Vec<String>,
}

impl Way {
    fn address(&self, picture: &str) -> String {
        format!("{}/{picture}", self.folder)
    }

    /// The pictures of its views: what moves, and what stands still where nothing shall move.
    fn views(&self) -> impl Iterator<Item = [String; 2]> {
        let moving = self
            .pictures
            .iter()
            .filter(|name| name.starts_with("moving"));
        moving.map(|name| {
            [name.clone(), name.replacen("moving", "print", 1)].map(|name| self.address(&name))
        })
    }
}

/// The page; `without` names variants that have no figure yet, as exercise and variant.
pub fn gallery(shown: &[Shown], without: &[String]) -> String {
    let style = look::faces() + &look::plain(&[look::TOKENS, STYLE].concat());
    let ways: usize = shown.iter().map(|one| one.ways.len()).sum();
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Exercises in motion" }
                style { (PreEscaped(&style)) }
            }
            body {
                main {
                    h1 { "Exercises in motion" }
                    p.lead {
                        (shown.len()) " exercises, " (ways) " ways of doing them. Every picture is worked out from a body with joints; where a device is set to show less motion, the printed picture stands in its place."
                    }
                    @for one in shown {
                        section {
                            h2 { (one.name) " " code { (one.id) } }
                            ul.ways { @for way in &one.ways { (card(&one.name, way)) } }
                        }
                    }
                    @if !without.is_empty() {
                        section {
                            h2 { "Without a figure so far" }
                            p.without { (without.join(", ")) "." }
                        }
                    }
                }
            }
        }
    }
    .into_string()
}

fn card(name: &str, way: &Way) -> maud::Markup {
    html! {
        li id=(way.folder) {
            div.views {
                @for [moving, still] in way.views() {
                    picture {
                        source media="(prefers-reduced-motion: reduce)" srcset=(still);
                        img loading="lazy" src=(moving) alt={ (name) ", " (way.way) };
                    }
                }
            }
            p.way { (way.way) " " code { (way.id) } }
            p.files {
                @for picture in &way.pictures {
                    a href=(way.address(picture)) { (picture.trim_end_matches(".svg")) }
                }
            }
        }
    }
}
