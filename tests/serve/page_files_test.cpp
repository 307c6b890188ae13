#include "serve/page_files.h"

#include <gtest/gtest.h>

#include "serve/scratch.h"

namespace stickwright {
namespace {

TEST(PageFiles, HoldEveryFileWithItsType) {
  Scratch scratch;
  scratch.write("index.html", "a page");
  scratch.write("assets/index-4f9a21bc.js", "go()");
  scratch.write("assets/font.woff2", "f");
  scratch.write("odd.xyz", "?");
  const PageFiles page = read_page(scratch.root());
  EXPECT_EQ(page.size(), 5u);
  EXPECT_EQ(page.at("/").body, "a page");
  EXPECT_EQ(page.at("/").type, "text/html; charset=utf-8");
  EXPECT_EQ(page.at("/assets/index-4f9a21bc.js").type, "text/javascript; charset=utf-8");
  EXPECT_EQ(page.at("/assets/font.woff2").type, "font/woff2");
  EXPECT_EQ(page.at("/odd.xyz").type, "application/octet-stream");
}

TEST(PageFiles, OnlyWhatIsNamedByItsContentIsKeptForEver) {
  Scratch scratch;
  for (const char* name : {"index.html", "assets/index-4f9a21bc.js", "assets/three-module-B1x_Y-9z.js",
                           "assets/font.woff2", "assets/a-b.js", "index-4f9a21bc.js"})
    scratch.write(name, name);
  const PageFiles page = read_page(scratch.root());
  for (const auto& [path, file] : page) {
    const bool named = path == "/assets/index-4f9a21bc.js" || path == "/assets/three-module-B1x_Y-9z.js";
    EXPECT_EQ(file.cache.find("immutable") != std::string::npos, named) << path;
    EXPECT_EQ(file.cache == "no-cache", !named) << path;
  }
}

TEST(PageFiles, TheTagChangesWithTheContent) {
  Scratch scratch;
  scratch.write("index.html", "one");
  const std::string first = read_page(scratch.root()).at("/").etag;
  EXPECT_EQ(read_page(scratch.root()).at("/").etag, first);
  scratch.write("index.html", "two");
  EXPECT_NE(read_page(scratch.root()).at("/").etag, first);
}

TEST(PageFiles, WithoutAPageThereIsOneThatSaysHowToBuildIt) {
  for (const char* folder : {"", "/nowhere/page"})
    EXPECT_NE(read_page(folder).at("/").body.find("npm run build"), std::string::npos);
}

}  // namespace
}  // namespace stickwright
