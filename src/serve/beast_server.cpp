#include <fmt/core.h>

#include <array>
#include <atomic>
#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/thread_pool.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/string.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/status.hpp>
#include <boost/beast/http/string_body.hpp>
#include <set>
#include <thread>

#include "serve/front.h"
#include "serve/routes.h"
#include "serve/server.h"

namespace stickwright {
namespace {

// The one file that knows the network library. One thread does all reading and writing; handlers, which may be slow,
// run in a pool. Everything of a Session happens on that one thread.

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = boost::beast::http;
using asio::ip::tcp;
using boost::system::error_code;

// A page asks six things at once and all may wait for one plan: so many that the next page is still answered.
constexpr std::size_t kHandlerThreads = 16;
// The desk is never kept out by what the network holds open.
constexpr std::size_t kMostConnections = 256, kMostFromNetwork = 128;
constexpr std::size_t kMostDrained = 4 * kMostBodyBytes;
constexpr std::chrono::seconds kDrainWithin{2};

class Session;

// What all sessions share.
struct Hub {
  const ServeOptions& options;
  Workbench& bench;
  asio::io_context& io;
  const Front front;
  std::set<Session*> sessions = {};
  asio::thread_pool workers{kHandlerThreads};
};

std::optional<std::string> header(const http::request<http::string_body>& request, http::field name) {
  const auto found = request.find(name);
  if (found == request.end()) return std::nullopt;
  return std::string(found->value());
}

std::optional<std::string> header(const http::request<http::string_body>& request, const char* name) {
  const auto found = request.find(name);
  if (found == request.end()) return std::nullopt;
  return std::string(found->value());
}

RequestHead head_of(const http::request<http::string_body>& request, bool loopback) {
  return {.method = std::string(request.method_string()),
          .target = std::string(request.target()),
          .host = request.count(http::field::host) == 1 ? header(request, http::field::host) : std::nullopt,
          .origin = header(request, http::field::origin),
          .fetch_site = header(request, "Sec-Fetch-Site"),
          .content_type = header(request, http::field::content_type),
          .cookie = header(request, http::field::cookie),
          .if_none_match = header(request, http::field::if_none_match),
          .last_event_id = header(request, "Last-Event-ID"),
          .loopback = loopback};
}

// What is said to a request that could not be read; nothing when there is nobody to say it to.
std::optional<Problem> why_unreadable(error_code error) {
  if (error == http::error::body_limit)
    return Problem{"too_large", "", fmt::format("expected at most {} bytes", kMostBodyBytes), ""};
  if (error == http::error::header_limit || error == http::error::buffer_overflow)
    return Problem{"headers_too_large", "", fmt::format("expected at most {} bytes of headers", kMostHeadBytes), ""};
  if (error == http::error::end_of_stream || error == http::error::partial_message) return std::nullopt;
  if (error.category() == http::make_error_code(http::error::bad_method).category())
    return Problem{"bad_request", "", "this is no request of HTTP/1.1: " + error.message(), ""};
  return std::nullopt;
}

std::string event_text(const JobEvent& e) {
  return fmt::format("id: {}\nevent: {}\ndata: {}\n\n", e.id, e.kind, e.data);
}

// One connection.
class Session : public std::enable_shared_from_this<Session> {
 public:
  Session(Hub& hub, tcp::socket socket, bool loopback)
      : hub_(hub), loopback_(loopback), stream_(std::move(socket)), heartbeat_(hub.io) {
    hub_.sessions.insert(this);
  }
  ~Session() { hub_.sessions.erase(this); }
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;

  void read_head() {
    if (closed_) return;
    parser_.emplace();
    parser_->header_limit(kMostHeadBytes);
    parser_->body_limit(kMostBodyBytes);
    stream_.expires_after(hub_.options.request_within);
    http::async_read_header(stream_, buffer_, *parser_,
                            [self = shared_from_this()](error_code e, std::size_t) { self->on_head(e); });
  }

  // Sends what is new on the followed job, if this is a stream.
  void pump() {
    if (!following_ || writing_ || ended_ || closed_) return;
    bool over = false;
    const auto events = hub_.bench.jobs().events_after(following_->job, following_->after, 0, over);
    if (!events || (events->empty() && over)) return end_stream();
    if (events->empty()) return;
    out_.clear();
    for (const JobEvent& e : *events) out_ += event_text(e);
    following_->after = events->back().id;
    write_to_stream();
  }

  void close() {
    if (closed_) return;
    closed_ = true;
    heartbeat_.cancel();
    stream_.close();
  }

 private:
  void on_head(error_code error) {
    if (error) return refuse(error);
    const auto& request = parser_->get();
    head_only_ = request.method() == http::verb::head;
    closes_ = !request.keep_alive();
    if (request.version() != 11) {
      closes_ = true;
      return send(problem_reply({"wrong_version", "", "expected HTTP/1.1", ""}));
    }
    heard_ = hub_.front.hear(head_of(request, loopback_));
    if (heard_.at_once) {
      closes_ = closes_ || !parser_->is_done();
      return send(*std::move(heard_.at_once));
    }
    if (beast::iequals(request[http::field::expect], "100-continue")) return say_continue();
    read_body();
  }

  void say_continue() {
    static constexpr std::string_view kContinue = "HTTP/1.1 100 Continue\r\n\r\n";
    asio::async_write(stream_, asio::buffer(kContinue), [self = shared_from_this()](error_code e, std::size_t) {
      if (e) return self->close();
      self->read_body();
    });
  }

  void read_body() {
    stream_.expires_after(hub_.options.request_within);
    http::async_read(stream_, buffer_, *parser_,
                     [self = shared_from_this()](error_code e, std::size_t) { self->on_body(e); });
  }

  void on_body(error_code error) {
    if (error) return refuse(error);
    stream_.expires_never();
    // The worker gives its hold on the session back with the reply: a session must not go on another thread.
    asio::post(hub_.workers, [self = shared_from_this(), body = std::move(parser_->get().body())]() mutable {
      Hub& hub = self->hub_;
      Reply reply = hub.front.answer(self->heard_, body);
      asio::post(hub.io,
                 [self = std::move(self), reply = std::move(reply)]() mutable { self->send(std::move(reply)); });
    });
  }

  void refuse(error_code error) {
    const auto problem = why_unreadable(error);
    if (!problem) return close();
    closes_ = true;
    send(problem_reply(*problem));
  }

  void send(Reply reply) {
    if (closed_) return;
    if (reply.stream) closes_ = true;
    const auto reason = http::obsolete_reason(http::int_to_status(static_cast<unsigned>(reply.status)));
    head_ = head_text(reply, {reason.data(), reason.size()}, closes_);
    out_ = head_only_ ? "" : std::move(reply.body);
    if (reply.stream && !head_only_) return begin_stream(*reply.stream);
    stream_.expires_after(hub_.options.reply_within);
    const std::array<asio::const_buffer, 2> parts = {asio::buffer(head_), asio::buffer(out_)};
    asio::async_write(stream_, parts, [self = shared_from_this()](error_code e, std::size_t) { self->on_sent(e); });
  }

  void on_sent(error_code error) {
    if (error || closed_) return close();
    if (!closes_) return read_head();
    shut_and_drain();
  }

  // Closing at once while the peer still sends would take the reply from it.
  void shut_and_drain() {
    error_code ignored;
    stream_.socket().shutdown(tcp::socket::shutdown_send, ignored);
    stream_.expires_after(kDrainWithin);
    drain(0);
  }
  void drain(std::size_t so_far) {
    stream_.async_read_some(asio::buffer(scratch_), [self = shared_from_this(), so_far](error_code e, std::size_t n) {
      if (e || so_far + n > kMostDrained) return self->close();
      self->drain(so_far + n);
    });
  }

  // From here on the socket is written and read without the stream's own clock: the heartbeat watches over it.
  void begin_stream(const JobStream& followed) {
    stream_.expires_never();
    following_ = followed;
    out_ = std::exchange(head_, {}) + "retry: 1000\n\n";
    write_to_stream();
    watch_peer();
    beat();
  }

  void write_to_stream() {
    writing_ = true;
    beats_while_writing_ = 0;
    asio::async_write(stream_.socket(), asio::buffer(out_), [self = shared_from_this()](error_code e, std::size_t) {
      self->writing_ = false;
      if (e) return self->close();
      self->pump();
    });
  }

  void watch_peer() {
    stream_.socket().async_read_some(asio::buffer(scratch_), [self = shared_from_this()](error_code e, std::size_t) {
      if (e || self->closed_) return self->close();
      self->watch_peer();
    });
  }

  void beat() {
    heartbeat_.expires_after(hub_.options.heartbeat);
    heartbeat_.async_wait([self = shared_from_this()](error_code e) {
      if (e || self->closed_) return;
      // The peer takes nothing any more, or does not close what is over.
      if (self->ended_ || (self->writing_ && ++self->beats_while_writing_ > 3)) return self->close();
      if (!self->writing_) {
        self->out_ = ": still here\n\n";
        self->write_to_stream();
      }
      self->beat();
    });
  }

  void end_stream() {
    ended_ = true;
    error_code ignored;
    stream_.socket().shutdown(tcp::socket::shutdown_send, ignored);
  }

  Hub& hub_;
  const bool loopback_;
  beast::tcp_stream stream_;
  asio::steady_timer heartbeat_;
  beast::flat_buffer buffer_{2 * kMostHeadBytes};
  std::optional<http::request_parser<http::string_body>> parser_;
  Heard heard_;
  std::string head_, out_;
  std::array<char, 4096> scratch_ = {};
  std::optional<JobStream> following_;
  bool head_only_ = false, closes_ = false, closed_ = false;
  bool writing_ = false, ended_ = false;
  int beats_while_writing_ = 0;
};

std::optional<Problem> listen_at(tcp::acceptor& acceptor, bool lan, int port) {
  const tcp::endpoint at(lan ? asio::ip::address_v4::any() : asio::ip::address_v4::loopback(),
                         static_cast<unsigned short>(port));
  error_code error;
  acceptor.open(at.protocol(), error);
  if (!error) acceptor.set_option(tcp::acceptor::reuse_address(true), error);
  if (!error) acceptor.bind(at, error);
  if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
  if (!error) return std::nullopt;
  error_code ignored;
  acceptor.close(ignored);
  if (error == asio::error::address_in_use)
    return Problem{"port_taken", "",
                   fmt::format("port {} is taken by another program; choose another one with --port", port), ""};
  return Problem{"cannot_listen", "", fmt::format("cannot listen at port {}: {}", port, error.message()), ""};
}

std::optional<Problem> listen_somewhere(tcp::acceptor& acceptor, const ServeOptions& options) {
  if (options.port) return listen_at(acceptor, options.lan, *options.port);
  std::optional<Problem> problem;
  for (int port = kUsualPort; port < kUsualPort + kPortsTried; ++port) {
    problem = listen_at(acceptor, options.lan, port);
    if (!problem || problem->code != "port_taken") return problem;
  }
  return problem;
}

}  // namespace

struct Server::Impl {
  ServeOptions options;
  Workbench bench;
  asio::io_context io{1};
  tcp::acceptor acceptor{io};
  asio::steady_timer pause{io};
  asio::executor_work_guard<asio::io_context::executor_type> handlers_run = asio::make_work_guard(io);
  std::unique_ptr<Hub> hub;
  std::atomic<bool> pump_queued = false;
  std::thread thread;

  Impl(ServeOptions chosen, Folder folder) : options(std::move(chosen)), bench(std::move(folder)) {
    if (options.routes.empty()) options.routes = all_routes();
    if (options.page.empty()) options.page = find_page();
    if (options.paired.empty()) options.paired = pairing_file(bench.folder().root());
  }

  int port() const { return acceptor.local_endpoint().port(); }

  // Once the acceptor listens.
  void begin() {
    if (options.lan) bench.open_to({port(), std::make_unique<Pairing>(options.paired)});
    hub.reset(new Hub{options, bench, io, Front(bench, read_page(options.page), options.routes, port())});
    bench.jobs().listen([this] {
      if (!pump_queued.exchange(true)) asio::post(io, [this] { pump(); });
    });
    accept();
    thread = std::thread([this] { run(); });
  }

  // From another thread. What is left on the I/O thread ends by itself once all is closed, and no handler has a reply
  // to bring any more.
  void end() {
    asio::post(io, [this] { close_all(); });
    bench.jobs().cancel_all();
    hub->workers.join();
    bench.jobs().listen(nullptr);
    handlers_run.reset();
    thread.join();
  }

 private:
  // A session that throws (memory is short) is dropped; the others go on.
  void run() {
    while (true) try {
        io.run();
        return;
      } catch (const std::exception& error) {
        fmt::print(stderr, "a connection was dropped: {}\n", error.what());
      }
  }

  void pump() {
    pump_queued = false;
    for (Session* s : hub->sessions) s->pump();
  }

  void accept() {
    acceptor.async_accept([this](error_code error, tcp::socket socket) {
      if (!acceptor.is_open()) return;
      if (error) return accept_later();
      take(std::move(socket));
      accept();
    });
  }
  // Out of file handles: some will be closed soon.
  void accept_later() {
    pause.expires_after(std::chrono::milliseconds(100));
    pause.async_wait([this](error_code error) {
      if (!error && acceptor.is_open()) accept();
    });
  }
  void take(tcp::socket socket) {
    error_code error;
    const auto peer = socket.remote_endpoint(error);
    if (error) return;
    const bool loopback = peer.address().is_loopback();
    if (hub->sessions.size() >= (loopback ? kMostConnections : kMostFromNetwork)) return;
    socket.set_option(tcp::no_delay(true), error);
    std::make_shared<Session>(*hub, std::move(socket), loopback)->read_head();
  }
  void close_all() {
    error_code ignored;
    acceptor.close(ignored);
    pause.cancel();
    for (Session* s : hub->sessions) s->close();
  }
};

Server::Server(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {
  impl_->begin();
}

Server::~Server() {
  impl_->end();
}

int Server::port() const {
  return impl_->port();
}

Workbench& Server::bench() {
  return impl_->bench;
}

Result<std::unique_ptr<Server>> Server::start(const ServeOptions& options) {
  auto folder = Folder::open(options.folder);
  if (!folder) return folder.problem();
  auto impl = std::make_unique<Impl>(options, folder.take());
  if (auto problem = listen_somewhere(impl->acceptor, options)) return *std::move(problem);
  return std::unique_ptr<Server>(new Server(std::move(impl)));
}

}  // namespace stickwright
