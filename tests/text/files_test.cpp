#include "text/files.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

namespace stickwright {
namespace {

namespace fs = std::filesystem;

fs::path fresh_folder(const std::string& name) {
  const fs::path folder = fs::path(testing::TempDir()) / ("files_test_" + name);
  fs::remove_all(folder);
  return folder;
}

std::string content(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator{}));
}

TEST(WriteFile, MakesFoldersAndWritesAllBytes) {
  const fs::path path = fresh_folder("new") / "a" / "b.txt";
  std::string text("one\0two\n", 8);
  text.append(1'000'000, 'x');
  ASSERT_TRUE(write_file(path, text));
  EXPECT_EQ(content(path), text);
  EXPECT_EQ(entries(path.parent_path()), 1u);  // nothing left beside it
}

TEST(WriteFile, ReplacesAFileAndKeepsItsPermissions) {
  const fs::path path = fresh_folder("old") / "a.txt";
  ASSERT_TRUE(write_file(path, "old and longer"));
  fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
  ASSERT_TRUE(write_file(path, "new"));
  EXPECT_EQ(content(path), "new");
  EXPECT_EQ(fs::status(path).permissions(), fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
}

TEST(WriteFile, FollowsALink) {
  const fs::path folder = fresh_folder("link");
  ASSERT_TRUE(write_file(folder / "real.txt", "old"));
  fs::create_symlink("real.txt", folder / "link.txt");
  ASSERT_TRUE(write_file(folder / "link.txt", "new"));
  EXPECT_TRUE(fs::is_symlink(folder / "link.txt"));
  EXPECT_EQ(content(folder / "real.txt"), "new");
}

TEST(WriteFile, AFolderIsNotReplaced) {
  const fs::path folder = fresh_folder("folder");
  ASSERT_TRUE(make_folder(folder / "sub"));
  const auto done = write_file(folder / "sub", "text");
  ASSERT_FALSE(done);
  EXPECT_EQ(done.problem().code, "cannot_write");
  EXPECT_TRUE(fs::is_directory(folder / "sub"));
  EXPECT_EQ(entries(folder), 1u);
}

TEST(WriteFile, AFileInTheWayOfAFolderIsAProblemWithItsName) {
  const fs::path folder = fresh_folder("way");
  ASSERT_TRUE(write_file(folder / "plain", "text"));
  const auto done = write_file(folder / "plain" / "b.txt", "text");
  ASSERT_FALSE(done);
  EXPECT_EQ(done.problem().code, "cannot_write");
  EXPECT_NE(done.problem().where.find("plain"), std::string::npos);
  EXPECT_FALSE(make_folder(folder / "plain"));
}

TEST(WriteFile, AReadOnlyFileStaysAsItIs) {
  if (::geteuid() == 0) GTEST_SKIP() << "the superuser may write anything";
  const fs::path path = fresh_folder("read_only") / "a.txt";
  ASSERT_TRUE(write_file(path, "old"));
  fs::permissions(path, fs::perms::owner_read);
  EXPECT_FALSE(write_file(path, "new"));
  EXPECT_EQ(content(path), "old");
}

TEST(MakeFolder, IsDoneWhenTheFolderIsThere) {
  const fs::path folder = fresh_folder("twice") / "a" / "b";
  EXPECT_TRUE(make_folder(folder));
  EXPECT_TRUE(make_folder(folder));
  EXPECT_TRUE(make_folder(""));
}

}  // namespace
}  // namespace stickwright
