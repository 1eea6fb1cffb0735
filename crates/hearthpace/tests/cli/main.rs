//! The program from outside: what is given, what comes out, and the exit status.

mod files;
mod rules;
mod run;
mod schemas;
mod usage;
