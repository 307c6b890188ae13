// client.h - a client of the server that can misbehave: it sends what it is told, byte for byte.
#pragma once
#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <nlohmann/json.hpp>
#include <string>

namespace stickwright {

struct HttpReply {
  int status = 0;  // 0: none came
  std::map<std::string, std::string> headers;
  std::string body;

  std::string code() const {
    const auto document = nlohmann::json::parse(body, nullptr, false);
    return document.is_object() ? document.value("code", "") : "";
  }
  nlohmann::json json() const { return nlohmann::json::parse(body, nullptr, false); }
};

// One connection. Whatever does not come within ten seconds does not come.
class Client {
 public:
  explicit Client(int port, const std::string& address = "127.0.0.1") : port_(port), address_(address) {
    socket_ = ::socket(AF_INET, SOCK_STREAM, 0);
    const timeval patience{10, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    ::setsockopt(socket_, SOL_SOCKET, SO_SNDTIMEO, &patience, sizeof patience);
    sockaddr_in to = {};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port));
    ::inet_pton(AF_INET, address.c_str(), &to.sin_addr);
    connected_ = ::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) == 0;
  }
  ~Client() { ::close(socket_); }
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  bool connected() const { return connected_; }
  std::string host() const { return address_ + ":" + std::to_string(port_); }

  // How much of it went out: a server that refuses may close before all of it did.
  std::size_t send(const std::string& text) {
    std::size_t sent = 0;
    while (sent < text.size()) {
      const ssize_t n = ::send(socket_, text.data() + sent, text.size() - sent, MSG_NOSIGNAL);
      if (n <= 0) break;
      sent += static_cast<std::size_t>(n);
    }
    return sent;
  }

  // "GET /path" with a Host header and `more` header lines, each ended by "\r\n".
  HttpReply get(const std::string& path, const std::string& more = "") { return ask("GET", path, more, ""); }
  HttpReply post(const std::string& path, const std::string& body, const std::string& more = "") {
    return ask("POST", path, own_page() + more, body);
  }
  HttpReply ask(const std::string& method, const std::string& path, const std::string& more, const std::string& body) {
    std::string text = method + " " + path + " HTTP/1.1\r\nHost: " + host() + "\r\n" + more;
    if (!body.empty()) text += "Content-Length: " + std::to_string(body.size()) + "\r\n";
    send(text + "\r\n" + body);
    return read_reply(method == "HEAD");
  }
  // What a browser sends when the workbench's own page posts.
  std::string own_page() const { return "Origin: http://" + host() + "\r\nContent-Type: application/json\r\n"; }

  HttpReply read_reply(bool head_only = false) {
    HttpReply out;
    const std::string head = read_through("\r\n\r\n");
    if (head.size() < 12 || !head.starts_with("HTTP/1.1 ")) return out;
    out.status = std::atoi(head.c_str() + 9);
    for (std::size_t at = head.find("\r\n") + 2; at < head.size() - 2;) {
      const std::size_t end = head.find("\r\n", at), colon = head.find(": ", at);
      if (colon < end) out.headers[head.substr(at, colon - at)] = head.substr(colon + 2, end - colon - 2);
      at = end + 2;
    }
    if (head_only || !out.headers.contains("Content-Length")) return out;
    const std::size_t size = std::stoul(out.headers["Content-Length"]);
    while (in_.size() < size && fill()) {
    }
    out.body = in_.substr(0, size);
    in_.erase(0, size);
    return out;
  }

  // Everything up to the mark, with it; what there is when it does not come.
  std::string read_through(const std::string& mark) {
    std::size_t at;
    while ((at = in_.find(mark)) == std::string::npos && fill()) {
    }
    const std::size_t size = at == std::string::npos ? in_.size() : at + mark.size();
    const std::string out = in_.substr(0, size);
    in_.erase(0, size);
    return out;
  }

  // The server ends the connection, and what it sends until then.
  bool is_closed_by_server() {
    while (fill()) {
    }
    return closed_;
  }
  std::string rest() {
    while (fill()) {
    }
    return std::exchange(in_, {});
  }

 private:
  bool fill() {
    char some[8192];
    const ssize_t n = ::recv(socket_, some, sizeof some, 0);
    closed_ = n == 0 || (n < 0 && errno == ECONNRESET);
    if (n <= 0) return false;
    in_.append(some, static_cast<std::size_t>(n));
    return true;
  }

  int port_, socket_ = -1;
  std::string address_, in_;
  bool connected_ = false, closed_ = false;
};

}  // namespace stickwright
