#include "text/short_hash.h"

#include <fmt/core.h>

namespace stickwright {

void ShortHash::add(std::int64_t value) {
  for (int byte = 0; byte < 8; ++byte) add_byte(static_cast<unsigned char>(value >> 8 * byte & 255));
}

void ShortHash::add(std::string_view bytes) {
  for (char c : bytes) add_byte(static_cast<unsigned char>(c));
}

std::string ShortHash::text() const {
  return fmt::format("{:016x}", state_);
}

}  // namespace stickwright
