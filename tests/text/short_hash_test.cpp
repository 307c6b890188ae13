#include "text/short_hash.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

std::string hash_of(std::string_view bytes) {
  ShortHash hash;
  hash.add(bytes);
  return hash.text();
}

// IETF draft "The FNV Non-Cryptographic Hash Algorithm", test vectors of 64-bit FNV-1a (from memory).
TEST(ShortHash, PublishedVectorsOfFnv1a64) {
  EXPECT_EQ(hash_of(""), "cbf29ce484222325");
  EXPECT_EQ(hash_of("a"), "af63dc4c8601ec8c");
  EXPECT_EQ(hash_of("foobar"), "85944171f73967e8");
}

TEST(ShortHash, ANumberIsItsBytesLowestFirst) {
  ShortHash hash;
  hash.add(std::int64_t{'a'} + (std::int64_t{'b'} << 8));
  EXPECT_EQ(hash.text(), hash_of(std::string_view("ab\0\0\0\0\0\0", 8)));
}

}  // namespace
}  // namespace stickwright
