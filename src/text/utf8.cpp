#include "text/utf8.h"

#include <algorithm>

namespace stickwright {
namespace {

// Length of the UTF-8 character at the front of `text`, or 0 when there is none.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned>(static_cast<unsigned char>(text[i])); };
  const unsigned lead = byte(0);
  const std::size_t length = lead < 0x80   ? 1
                             : lead < 0xC2 ? 0
                             : lead < 0xE0 ? 2
                             : lead < 0xF0 ? 3
                             : lead < 0xF5 ? 4
                                           : 0;
  if (length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  if (length < 3) return length;
  // Two spellings longer than needed, the surrogates, and what lies beyond the last character.
  const bool wrong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90) ||
                     (lead == 0xED && byte(1) > 0x9F) || (lead == 0xF4 && byte(1) > 0x8F);
  return wrong ? 0 : length;
}

}  // namespace

std::optional<Place> first_not_utf8(std::string_view text) {
  Place at{1, 1};
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    if (length == 0) return at;
    ++at.column;
    if (text.front() == '\n') at = {at.line + 1, 1};
    text.remove_prefix(length);
  }
  return {};
}

bool is_one_line(std::string_view text) {
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < ' ' || c == 127; };
  return !first_not_utf8(text) && std::none_of(text.begin(), text.end(), is_control);
}

}  // namespace stickwright
