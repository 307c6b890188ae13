#include "support/published_counts.h"

namespace stickwright {
namespace {

TEST_P(PublishedShapes, AreAsManyAsCountedFarther) {
  expect_published(GetParam(), GetParam().slow);
}

}  // namespace
}  // namespace stickwright
