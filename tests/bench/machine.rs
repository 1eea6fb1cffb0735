//! What the figures were measured on.

/// Cores, and how busy the machine was before the run: figures of a busy machine are worth little.
pub(crate) fn described() -> String {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let load = std::fs::read_to_string("/proc/loadavg").ok();
    let load = load
        .as_deref()
        .and_then(|text| text.split_whitespace().next())
        .unwrap_or("not known");
    format!("{cores} cores, load of the last minute before the run {load}")
}
