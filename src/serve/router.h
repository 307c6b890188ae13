// router.h - what a request line asks for.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "serve/call.h"

namespace stickwright {

// "/api/jobs/7?after=2", taken apart. The path is parted at its slashes before it is decoded, so that "%2F" in a name
// stays one name.
struct RequestTarget {
  std::vector<std::string> parts;            // "api", "jobs", "7"; of "/" none
  std::map<std::string, std::string> query;  // of a key given twice the first
  std::string path() const;                  // decoded, with "/"
};

//   returns  nothing when it is no path ("*", "http://..."), or holds a broken "%", a NUL or another control character
std::optional<RequestTarget> read_target(std::string_view target);

struct RouteFound {
  const Route* route = nullptr;  // nullptr: none
  std::map<std::string, std::string> slots;
  std::string allowed;  // methods that the path has, "GET, HEAD, POST"; "" when there is no such path
};

// A HEAD is answered by the route of the GET. Words of a path go before slots.
RouteFound find_route(const std::vector<Route>& routes, const std::string& method, const RequestTarget& target);

}  // namespace stickwright
