// guard.h - who may ask for what. Decided from the head of a request alone, before anything of it is looked at closer.
// In plain words: docs/workbench.md.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// What the rules look at. Header values as they came; nothing: not sent.
struct Knock {
  std::string method, path;  // the path decoded
  std::optional<std::string> host, origin, fetch_site, content_type;
  bool loopback = true;  // the peer is this machine
  bool paired = false;   // the peer showed a token that we gave out
};

// How the workbench may be called.
struct Door {
  int port = 0;
  bool lan = false;
  std::vector<std::string> names;  // with lan: this machine's addresses and names, besides those of loopback
};

// Why the request is refused; nothing: it is let in.
//   errors   wrong_host: not by a name of this machine (a foreign site whose name was made to point here);
//            foreign_origin: another site's page asks; not_json: a POST or DELETE without the type that such a page
//            cannot send; not_paired: a peer from the network without a token
std::optional<Problem> why_refused(const Knock& knock, const Door& door);

// The token in a Cookie header, "" when there is none.
std::string token_in(const std::string& cookies);

}  // namespace stickwright
