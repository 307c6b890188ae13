// front.h - what is answered to a request, without the network: which rule refuses it, which file of the page it names,
// which route takes it.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "serve/guard.h"
#include "serve/page_files.h"
#include "serve/router.h"
#include "serve/workbench.h"

namespace stickwright {

// The head of a request. Header values as they came; nothing: not sent.
struct RequestHead {
  std::string method, target;
  std::optional<std::string> host, origin, fetch_site, content_type, cookie, if_none_match, last_event_id;
  bool loopback = true;
};

struct Heard {
  std::optional<Reply> at_once;  // no need to look at the body, or to wait for a handler
  const Route* route = nullptr;  // else the route that answers
  Call call;
};

// Safe to call from several threads. Outlives no Workbench.
class Front {
 public:
  Front(Workbench& bench, PageFiles page, std::vector<Route> routes, int port);

  // Quick: never waits for a plan or the disk.
  Heard hear(const RequestHead& head) const;
  // What the route says to it. As slow as the route; what it throws becomes the problem "failed".
  Reply answer(const Heard& heard, const std::string& body) const;

 private:
  Door door() const;
  Reply page_reply(const RequestHead& head, const RequestTarget& target) const;
  Reply within_folder(Reply reply) const;  // a problem names no place outside the folder
  Workbench& bench_;
  const PageFiles page_;
  const std::vector<Route> routes_;
  const int port_;
};

// The head of a reply, up to the empty line, with the headers that every reply has.
//   reason   of the status, "Not Found"
//   closes   the connection ends with this reply
std::string head_text(const Reply& reply, std::string_view reason, bool closes);

}  // namespace stickwright
