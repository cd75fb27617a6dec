//! The server of the open pages: this machine's loopback address, one thread, and limits on all that a request may
//! take. The only place that waits for many things at once, and the only one that knows the libraries for it.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the server: a socket, and a thread of its own"
)]

use std::collections::VecDeque;
use std::convert::Infallible;
use std::fmt;
use std::io;
use std::net::{Ipv4Addr, Ipv6Addr, SocketAddr, TcpListener as Socket};
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::Sender as Calls;
use std::task::{Context, Poll};
use std::time::Duration;

use hyper::body::{Body, Bytes, Frame, Incoming};
use hyper::header::{ALLOW, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::runtime::Builder;
use tokio::sync::mpsc::{Receiver, Sender, channel};
use tokio::task::JoinHandle;
use tokio::time::{sleep, timeout};

use super::guard::{self, Wish};
use super::live::Live;
use super::{Call, Stop, page};
use crate::disk::OutFolder;

/// The most bytes of the head of a request.
const MOST_HEAD: usize = 8 * 1024;
/// The most connections at once; one more takes the place of the oldest that has nothing to show for itself.
const MOST_CONNECTIONS: usize = 64;
/// The most pages that listen for changes. Pages of one browser share a stream.
const MOST_STREAMS: usize = 16;
/// How long a client may take to send the head of its request.
const HEAD_TIME: Duration = Duration::from_secs(5);
/// How long a connection may last that is no stream.
const WHOLE_TIME: Duration = Duration::from_secs(10);
/// How often a stream says that it is still there, and how long it waits for one that does not read.
const HEARTBEAT: Duration = Duration::from_secs(5);

/// What every answer says: to whom it belongs, and that it is neither kept nor guessed at.
const FIELDS: [(&str, &str); 6] = [
    ("content-security-policy", "frame-ancestors 'none'"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cache-control", "no-store"),
];

/// A server that has its address and is not running yet.
#[derive(Debug)]
pub struct Server {
    sockets: Vec<Socket>,
    port: u16,
}

/// Why there is no server.
#[derive(Debug)]
pub enum ServerError {
    /// Another program has that port.
    Taken(u16),
    /// The system refuses, in its own words.
    Refused(String),
}

impl fmt::Display for ServerError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Taken(port) => write!(
                out,
                "port {port} is taken, perhaps by another `loafwright watch`; end that one, or add `--port 0` for a \
                 free port"
            ),
            Self::Refused(why) => write!(out, "the cards cannot be shown to a browser: {why}"),
        }
    }
}

impl std::error::Error for ServerError {}

impl Server {
    /// Takes a port of the loopback address; 0 stands for any that is free.
    ///
    /// # Errors
    ///
    /// Gives an error where the port is taken or the system refuses.
    pub fn bind(port: u16) -> Result<Self, ServerError> {
        let refused = |error: io::Error| match error.kind() {
            io::ErrorKind::AddrInUse => ServerError::Taken(port),
            io::ErrorKind::PermissionDenied => ServerError::Refused(format!(
                "you may not use port {port}; ports from 1024 on are free"
            )),
            _ => ServerError::Refused(error.to_string()),
        };
        let first = Socket::bind((Ipv4Addr::LOCALHOST, port)).map_err(refused)?;
        let port = first.local_addr().map_err(refused)?.port();
        let mut sockets = vec![first];
        // A browser may take `localhost` for this address first. Not every machine has it.
        sockets.extend(Socket::bind((Ipv6Addr::LOCALHOST, port)));
        Ok(Self { sockets, port })
    }

    /// Gives the address for the browser.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://{}/", SocketAddr::from((Ipv4Addr::LOCALHOST, self.port)))
    }

    /// Serves the pages of a folder from now on, and passes on when the user wants the program to end.
    ///
    /// # Errors
    ///
    /// Gives an error where the system has no thread left, or no way to hear of signals.
    pub fn start(
        self,
        pages: Arc<OutFolder>,
        live: Arc<Live>,
        calls: Calls<Call>,
    ) -> Result<(), ServerError> {
        let refused = |error: io::Error| ServerError::Refused(error.to_string());
        let runtime = Builder::new_current_thread()
            .enable_all()
            .build()
            .map_err(refused)?;
        let entered = runtime.enter();
        let mut listeners = Vec::new();
        for socket in self.sockets {
            socket.set_nonblocking(true).map_err(refused)?;
            listeners.push(TcpListener::from_std(socket).map_err(refused)?);
        }
        listen_for_stop(calls).map_err(refused)?;
        let shop = Arc::new(Shop {
            pages,
            live,
            port: self.port,
            streams: Arc::default(),
        });
        for listener in listeners {
            tokio::spawn(serve(listener, Arc::clone(&shop)));
        }
        drop(entered);
        std::thread::Builder::new()
            .name("server".to_owned())
            .spawn(move || runtime.block_on(std::future::pending::<()>()))
            .map_err(refused)?;
        Ok(())
    }
}

/// Passes the signals on with which a user ends a program.
#[cfg(unix)]
fn listen_for_stop(calls: Calls<Call>) -> io::Result<()> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    tokio::spawn(async move {
        loop {
            let stop = tokio::select! {
                _ = interrupt.recv() => Stop::Interrupt,
                _ = terminate.recv() => Stop::Terminate,
            };
            // Nobody listens any more when the program ends already.
            let _ = calls.send(Call::Stop(stop));
        }
    });
    Ok(())
}

#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "elsewhere the system may refuse")]
fn listen_for_stop(calls: Calls<Call>) -> io::Result<()> {
    tokio::spawn(async move {
        while tokio::signal::ctrl_c().await.is_ok() {
            let _ = calls.send(Call::Stop(Stop::Interrupt));
        }
    });
    Ok(())
}

/// What requests are answered with.
struct Shop {
    pages: Arc<OutFolder>,
    live: Arc<Live>,
    port: u16,
    streams: Arc<AtomicUsize>,
}

/// A connection that somebody has opened.
struct Open {
    task: JoinHandle<()>,
    is_stream: Arc<AtomicBool>,
}

/// Takes connections in. When there are too many, the oldest that is no stream goes: an honest client is answered
/// within milliseconds, so what is old is up to nothing good.
async fn serve(listener: TcpListener, shop: Arc<Shop>) {
    let mut open: VecDeque<Open> = VecDeque::new();
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            // The system is out of handles; they come back when connections end.
            sleep(Duration::from_millis(50)).await;
            continue;
        };
        open.retain(|one| !one.task.is_finished());
        while open.len() >= MOST_CONNECTIONS {
            let idle = open.iter().position(|one| !one.is_stream.load(Ordering::Relaxed));
            let Some(oldest) = idle.and_then(|at| open.remove(at)) else {
                break;
            };
            oldest.task.abort();
        }
        let is_stream = Arc::<AtomicBool>::default();
        let task = tokio::spawn(converse(stream, Arc::clone(&shop), Arc::clone(&is_stream)));
        open.push_back(Open { task, is_stream });
    }
}

/// Answers one request on a connection and closes it.
async fn converse(stream: TcpStream, shop: Arc<Shop>, is_stream: Arc<AtomicBool>) {
    // A tick is a few bytes that must not wait for more.
    let _ = stream.set_nodelay(true);
    let service = service_fn(|request: Request<Incoming>| {
        let answer = shop.answer(request, &is_stream);
        async { Ok::<_, Infallible>(answer) }
    });
    let connection = http1::Builder::new()
        .keep_alive(false)
        .max_buf_size(MOST_HEAD)
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_TIME)
        .serve_connection(TokioIo::new(stream), service);
    let overdue = async {
        sleep(WHOLE_TIME).await;
        if is_stream.load(Ordering::Relaxed) {
            std::future::pending::<()>().await;
        }
    };
    tokio::select! {
        // What goes wrong with a connection is the client's business.
        _ = connection => {}
        () = overdue => {}
    }
}

impl Shop {
    fn answer(&self, request: Request<Incoming>, is_stream: &AtomicBool) -> Response<Answer> {
        let (head, _) = request.into_parts();
        let (status, kind, body) = match guard::admit(&head, self.port) {
            Ok(Wish::Page(name)) => self.page(&name),
            Ok(Wish::News(name)) => {
                let page = self.read(&name);
                let version = page.as_deref().map(page::version);
                let pictures = page.map(|page| self.pictures(&name, &page));
                let news = self.live.news(&name, version.as_deref(), pictures.as_deref());
                (StatusCode::OK, "application/json", Answer::whole(news))
            }
            Ok(Wish::Ticks) if head.method == hyper::Method::HEAD => {
                (StatusCode::OK, "text/event-stream", Answer::whole(String::new()))
            }
            Ok(Wish::Ticks) => match self.ticks() {
                Some(stream) => {
                    is_stream.store(true, Ordering::Relaxed);
                    (StatusCode::OK, "text/event-stream", stream)
                }
                None => plain(StatusCode::SERVICE_UNAVAILABLE),
            },
            Err(status) => plain(status),
        };
        let mut response = Response::new(body);
        *response.status_mut() = status;
        let fields = response.headers_mut();
        fields.insert("content-type", HeaderValue::from_static(kind));
        for (name, value) in FIELDS {
            fields.insert(name, HeaderValue::from_static(value));
        }
        if status == StatusCode::METHOD_NOT_ALLOWED {
            fields.insert(ALLOW, HeaderValue::from_static("GET, HEAD"));
        }
        response
    }

    fn page(&self, name: &str) -> (StatusCode, &'static str, Answer) {
        const HTML: &str = "text/html; charset=utf-8";
        let kind = match name.rsplit('.').next() {
            Some("html") => HTML,
            Some("png") => "image/png",
            Some("jpg") => "image/jpeg",
            Some("webp") => "image/webp",
            Some("xml") => "application/xml",
            _ => "application/octet-stream",
        };
        match self.read(name) {
            Some(page) if kind == HTML => (StatusCode::OK, kind, Answer::whole(page::alive(&page))),
            Some(file) => (StatusCode::OK, kind, Answer::whole(file)),
            None if self.live.is_awaited(name) => (
                StatusCode::OK,
                HTML,
                Answer::whole(page::alive(page::empty().as_bytes())),
            ),
            None => plain(StatusCode::NOT_FOUND),
        }
    }

    /// Reads a page that is ours. One that is replaced at this moment is read as it was or as it will be.
    fn read(&self, name: &str) -> Option<Vec<u8>> {
        self.pages.page(name)
    }

    /// Gives a number that changes with the pictures beside a page.
    fn pictures(&self, name: &str, page: &[u8]) -> String {
        let folder = name
            .rsplit_once('/')
            .map_or(String::new(), |(folder, _)| format!("{folder}/"));
        let pictures = page::pictures(page);
        let bytes = pictures
            .iter()
            .filter_map(|picture| self.read(&[folder.as_str(), picture].concat()));
        page::version(&bytes.flatten().collect::<Vec<u8>>())
    }

    /// Opens a stream with a line for every change; nothing where there are too many.
    fn ticks(&self) -> Option<Answer> {
        let place = Place::take(&self.streams)?;
        let (sender, receiver) = channel(8);
        tokio::spawn(tick(self.live.ticks(), sender, place));
        Some(Answer::Stream(receiver))
    }
}

/// Sends a line for every change, and one now and then to see whether anybody listens.
async fn tick(mut ticks: tokio::sync::watch::Receiver<u64>, lines: Sender<Bytes>, _place: Place) {
    let mut line = Bytes::from_static(b"retry: 1000\ndata: hello\n\n");
    loop {
        if !matches!(timeout(HEARTBEAT, lines.send(line)).await, Ok(Ok(()))) {
            return;
        }
        line = tokio::select! {
            changed = ticks.changed() => match changed {
                Ok(()) => Bytes::from_static(b"data: changed\n\n"),
                Err(_) => return,
            },
            () = sleep(HEARTBEAT) => Bytes::from_static(b":\n\n"),
            () = lines.closed() => return,
        };
    }
}

/// A place among the streams, given back when it is dropped.
struct Place(Arc<AtomicUsize>);

impl Place {
    fn take(streams: &Arc<AtomicUsize>) -> Option<Self> {
        let more = |count: usize| (count < MOST_STREAMS).then_some(count + 1);
        let taken = streams.fetch_update(Ordering::Relaxed, Ordering::Relaxed, more);
        taken.ok().map(|_| Self(Arc::clone(streams)))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

/// Answers with nothing but a status, in words.
fn plain(status: StatusCode) -> (StatusCode, &'static str, Answer) {
    (
        status,
        "text/plain; charset=utf-8",
        Answer::whole(format!("{status}\n")),
    )
}

/// The body of an answer.
enum Answer {
    /// All at once.
    Whole(Option<Bytes>),
    /// Line by line, as they come.
    Stream(Receiver<Bytes>),
}

impl Answer {
    fn whole(bytes: impl Into<Bytes>) -> Self {
        Self::Whole(Some(bytes.into()))
    }
}

impl Body for Answer {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        match &mut *self {
            Self::Whole(bytes) => Poll::Ready(bytes.take().map(|bytes| Ok(Frame::data(bytes)))),
            Self::Stream(lines) => lines
                .poll_recv(context)
                .map(|line| line.map(|line| Ok(Frame::data(line)))),
        }
    }

    fn size_hint(&self) -> hyper::body::SizeHint {
        match self {
            Self::Whole(bytes) => {
                hyper::body::SizeHint::with_exact(bytes.as_ref().map_or(0, Bytes::len) as u64)
            }
            Self::Stream(_) => hyper::body::SizeHint::default(),
        }
    }
}
