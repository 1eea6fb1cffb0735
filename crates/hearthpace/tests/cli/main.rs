//! The program from outside: what is given, what comes out, and the exit status.

mod backup;
mod compose;
mod fhir;
mod figures;
mod files;
mod killed;
mod limits;
mod pack;
mod programme;
mod rules;
mod run;
mod schemas;
mod serve;
mod usage;
