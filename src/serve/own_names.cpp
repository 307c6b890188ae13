#include "serve/own_names.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>

namespace stickwright {

std::vector<std::string> own_addresses() {
  std::vector<std::string> out;
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) != 0) return out;
  for (const ifaddrs* one = all; one; one = one->ifa_next) {
    if (!one->ifa_addr || one->ifa_addr->sa_family != AF_INET || (one->ifa_flags & IFF_LOOPBACK)) continue;
    char text[INET_ADDRSTRLEN] = {};
    const auto* address = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
    if (::inet_ntop(AF_INET, &address->sin_addr, text, sizeof text)) out.emplace_back(text);
  }
  ::freeifaddrs(all);
  return out;
}

std::vector<std::string> own_names() {
  std::vector<std::string> out = own_addresses();
  char name[256] = {};
  if (::gethostname(name, sizeof name - 1) != 0 || !name[0]) return out;
  std::string host = name;
  std::transform(host.begin(), host.end(), host.begin(), [](unsigned char c) { return std::tolower(c); });
  out.push_back(host);
  if (host.find('.') == std::string::npos) out.push_back(host + ".local");
  return out;
}

}  // namespace stickwright
