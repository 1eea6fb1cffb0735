//! One HTTP request at a time, enough for a test to speak to a browser's driver or to the program.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// How long a single answer may take before the test has failed.
const ANSWER_S: u64 = 120;

/// An answer of a server.
#[derive(Debug)]
pub struct Answer {
    /// The status code.
    pub status: u16,
    /// The headers with names in small letters.
    pub headers: Vec<(String, String)>,
    /// The body as it came.
    pub body: Vec<u8>,
}

impl Answer {
    /// The first header of this name (small letters).
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers
            .iter()
            .find(|(key, _)| key == name)
            .map(|(_, value)| value.as_str())
    }

    /// The body as text; what is not UTF-8 is replaced.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

/// Sends one request to 127.0.0.1 and reads the answer to its end.
///
/// # Errors
/// When nobody listens, or the answer is not HTTP.
pub fn send(
    port: u16,
    method: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: &[u8],
) -> std::io::Result<Answer> {
    let mut stream = TcpStream::connect(("127.0.0.1", port))?;
    stream.set_read_timeout(Some(Duration::from_secs(ANSWER_S)))?;
    let mut request =
        format!("{method} {path} HTTP/1.1\r\nhost: 127.0.0.1:{port}\r\nconnection: close\r\n");
    for (name, value) in headers {
        request.push_str(&format!("{name}: {value}\r\n"));
    }
    request.push_str(&format!("content-length: {}\r\n\r\n", body.len()));
    stream.write_all(request.as_bytes())?;
    stream.write_all(body)?;
    read_answer(&mut stream)
}

fn read_answer(stream: &mut TcpStream) -> std::io::Result<Answer> {
    let mut bytes = Vec::new();
    let mut chunk = [0_u8; 16 * 1024];
    loop {
        if let Some((head, body)) = split_head(&bytes) {
            let answer = parse_head(head)?;
            let length = answer
                .header("content-length")
                .and_then(|length| length.parse::<usize>().ok());
            if length.is_some_and(|length| body.len() >= length) {
                return Ok(Answer {
                    body: body[..length.unwrap_or(0)].to_vec(),
                    ..answer
                });
            }
        }
        match stream.read(&mut chunk)? {
            0 => break,
            read => bytes.extend_from_slice(&chunk[..read]),
        }
    }
    let (head, body) =
        split_head(&bytes).ok_or_else(|| not_http("the answer ended within its head"))?;
    let answer = parse_head(head)?;
    let chunked = answer.header("transfer-encoding") == Some("chunked");
    let body = if chunked {
        join_chunks(body)?
    } else {
        body.to_vec()
    };
    Ok(Answer { body, ..answer })
}

fn split_head(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let end = bytes.windows(4).position(|window| window == b"\r\n\r\n")?;
    Some((&bytes[..end], &bytes[end + 4..]))
}

fn parse_head(head: &[u8]) -> std::io::Result<Answer> {
    let text = String::from_utf8_lossy(head);
    let mut lines = text.split("\r\n");
    let status = lines
        .next()
        .and_then(|line| line.split(' ').nth(1))
        .and_then(|status| status.parse().ok())
        .ok_or_else(|| not_http("the first line has no status"))?;
    let headers = lines
        .filter_map(|line| line.split_once(':'))
        .map(|(name, value)| (name.to_lowercase(), value.trim().to_owned()))
        .collect();
    Ok(Answer {
        status,
        headers,
        body: Vec::new(),
    })
}

fn join_chunks(mut rest: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut body = Vec::new();
    loop {
        let end = rest
            .windows(2)
            .position(|window| window == b"\r\n")
            .ok_or_else(|| not_http("a chunk has no size"))?;
        let size = std::str::from_utf8(&rest[..end])
            .ok()
            .and_then(|size| usize::from_str_radix(size.trim(), 16).ok())
            .ok_or_else(|| not_http("the size of a chunk is no number"))?;
        rest = &rest[end + 2..];
        if size == 0 {
            return Ok(body);
        }
        if rest.len() < size + 2 {
            return Err(not_http("the answer ended within a chunk"));
        }
        body.extend_from_slice(&rest[..size]);
        rest = &rest[size + 2..];
    }
}

fn not_http(what: &str) -> std::io::Error {
    std::io::Error::new(std::io::ErrorKind::InvalidData, what)
}

#[cfg(test)]
mod tests {
    use super::{join_chunks, parse_head};

    #[test]
    fn chunks_are_joined_and_a_cut_one_is_refused() {
        assert_eq!(
            join_chunks(b"3\r\nabc\r\nA\r\n0123456789\r\n0\r\n\r\n").unwrap(),
            b"abc0123456789"
        );
        assert!(join_chunks(b"3\r\nab").is_err());
    }

    #[test]
    fn a_head_gives_status_and_headers() {
        let answer = parse_head(b"HTTP/1.1 303 See Other\r\nLocation: /case\r\nX: a: b").unwrap();
        assert_eq!(
            (answer.status, answer.header("location"), answer.header("x")),
            (303, Some("/case"), Some("a: b"))
        );
    }
}
