// short_hash.h - a short name for some content: equal content has equal names. No secret, no proof against intent.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

namespace stickwright {

// Names 64 bits long: two different contents meet by chance once in 2^64.
//   source   64-bit FNV-1a; IETF draft "The FNV Non-Cryptographic Hash Algorithm" (Fowler, Noll, Vo, Eastlake)
class ShortHash {
 public:
  void add(std::int64_t value);  // its eight bytes, the lowest first
  void add(std::string_view bytes);
  std::string text() const;  // 16 hexadecimal digits

 private:
  void add_byte(unsigned char byte) { state_ = (state_ ^ byte) * 0x100000001B3u; }
  std::uint64_t state_ = 0xCBF29CE484222325u;
};

}  // namespace stickwright
