// own_names.h - how this machine is called in the shop's network.
#pragma once
#include <string>
#include <vector>

namespace stickwright {

// Its IPv4 addresses, without loopback: "192.168.1.5".
std::vector<std::string> own_addresses();
// Those, its host name, and that with ".local": what a browser in the network may call it, in small letters.
std::vector<std::string> own_names();

}  // namespace stickwright
