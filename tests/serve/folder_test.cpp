#include "serve/folder.h"

#include <gtest/gtest.h>

#include "serve/scratch.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using Names = std::vector<std::string>;

// A folder "shop" with a secret beside it.
struct Served {
  Scratch scratch;
  Folder folder;
  Served() : folder(make(scratch)) {}
  fs::path root() const { return scratch.root() / "shop"; }
  static Folder make(const Scratch& scratch) {
    scratch.write("secret.toml", "secret = true");
    scratch.write("shop/batch.toml", "format = 1");
    return Folder::open(scratch.root() / "shop").take();
  }
  std::string code(const std::string& name) const {
    const auto place = folder.place_of(name);
    return place ? "" : place.problem().code;
  }
};

TEST(Folder, AFileIsFoundByItsNameAndNamedByItsPlace) {
  Served s;
  s.scratch.write("shop/spring/batch.toml", "");
  const auto place = s.folder.file("spring/batch.toml");
  ASSERT_TRUE(place);
  EXPECT_TRUE(fs::equivalent(place.value(), s.root() / "spring" / "batch.toml"));
  EXPECT_EQ(s.folder.name_of(place.value()), "spring/batch.toml");
}

TEST(Folder, AFileToBeWrittenNeedNotBeThereOneToBeReadDoes) {
  Served s;
  EXPECT_TRUE(s.folder.place_of("new/design.toml"));
  const auto file = s.folder.file("new/design.toml");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.problem().code, "no_file");
  EXPECT_FALSE(s.folder.file("."));
  fs::create_directory(s.root() / "spring");
  EXPECT_FALSE(s.folder.file("spring"));
}

TEST(Folder, NothingLeadsOutOfIt) {
  Served s;
  for (const char* name : {"../secret.toml", "spring/../../secret.toml", "spring/..", "./batch.toml", "/etc/passwd",
                           "spring//../../secret.toml", ".."})
    EXPECT_EQ(s.code(name), "outside_folder") << name;
  EXPECT_EQ(s.code((s.scratch.root() / "secret.toml").string()), "outside_folder");
}

TEST(Folder, ALinkThatLeadsOutIsNotFollowed) {
  Served s;
  fs::create_symlink("../secret.toml", s.root() / "link.toml");
  fs::create_directory_symlink("..", s.root() / "up");
  fs::create_symlink("../not-there-yet.toml", s.root() / "later.toml");
  for (const char* name : {"link.toml", "up/secret.toml", "later.toml"})
    EXPECT_EQ(s.code(name), "outside_folder") << name;
  EXPECT_EQ(s.folder.toml_files(), Names{"batch.toml"});
}

TEST(Folder, ALinkThatStaysInsideIsFollowedButNotToWhatIsHidden) {
  Served s;
  s.scratch.write("shop/.hidden/token.toml", "");
  fs::create_symlink("batch.toml", s.root() / "same.toml");
  fs::create_symlink(".hidden/token.toml", s.root() / "shown.toml");
  EXPECT_EQ(s.code("same.toml"), "");
  EXPECT_EQ(s.code("shown.toml"), "outside_folder");
}

TEST(Folder, WhatIsHiddenIsNeitherNamedNorListed) {
  Served s;
  s.scratch.write("shop/.git/config.toml", "");
  s.scratch.write("shop/.paired.toml", "");
  for (const char* name : {".git/config.toml", ".paired.toml", "spring/.x.toml"})
    EXPECT_EQ(s.code(name), "outside_folder") << name;
  EXPECT_EQ(s.folder.toml_files(), Names{"batch.toml"});
}

TEST(Folder, ANameIsOneLineOfText) {
  Served s;
  for (const std::string& name : {std::string(), std::string("batch.toml\0.txt", 15), std::string("a\nb.toml"),
                                  std::string("\xff.toml"), std::string(kLongestName + 1, 'a')})
    EXPECT_EQ(s.code(name), "bad_name");
}

TEST(Folder, AFolderWhoseNameBeginsAlikeIsAnotherFolder) {
  Served s;
  s.scratch.write("shop-two/secret.toml", "");
  fs::create_symlink("../shop-two/secret.toml", s.root() / "link.toml");
  EXPECT_EQ(s.code("link.toml"), "outside_folder");
}

TEST(Folder, ListsSortedAndNoDeeperThanSixFolders) {
  Served s;
  s.scratch.write("shop/b/x.toml", "");
  s.scratch.write("shop/a.toml", "");
  s.scratch.write("shop/note.txt", "");
  s.scratch.write("shop/1/2/3/4/5/6/in.toml", "");
  s.scratch.write("shop/1/2/3/4/5/6/7/out.toml", "");
  EXPECT_EQ(s.folder.toml_files(), (Names{"1/2/3/4/5/6/in.toml", "a.toml", "b/x.toml", "batch.toml"}));
}

TEST(Folder, TheFingerprintChangesWithEveryFileThatIsWrittenComesOrGoes) {
  Served s;
  std::vector<std::string> seen = {s.folder.fingerprint(false)};
  EXPECT_EQ(s.folder.fingerprint(false), seen.back());
  const auto changed = [&] {
    seen.push_back(s.folder.fingerprint(false));
    return seen.back() != seen[seen.size() - 2];
  };
  s.scratch.write("shop/batch.toml", "format = 12");
  EXPECT_TRUE(changed());
  s.scratch.write("shop/star.toml", "");
  EXPECT_TRUE(changed());
  fs::rename(s.root() / "star.toml", s.root() / "moon.toml");
  EXPECT_TRUE(changed());
  fs::remove(s.root() / "moon.toml");
  EXPECT_TRUE(changed());
  fs::last_write_time(s.root() / "batch.toml", fs::file_time_type::clock::now() - std::chrono::hours(1));
  EXPECT_TRUE(changed());
}

TEST(Folder, LedgersCountOnlyWhenAskedForAndTheirLogOnlyOnceItHoldsSomething) {
  Served s;
  const std::string without = s.folder.fingerprint(false), with = s.folder.fingerprint(true);
  s.scratch.write("shop/batch.ledger-wal", "");
  EXPECT_EQ(s.folder.fingerprint(true), with);
  s.scratch.write("shop/batch.ledger-wal", "a reading");
  EXPECT_NE(s.folder.fingerprint(true), with);
  EXPECT_EQ(s.folder.fingerprint(false), without);
}

TEST(Folder, ReadsTextAndRefusesWhatIsNone) {
  Served s;
  s.scratch.write("shop/picture.toml", "\x89PNG\xff");
  EXPECT_EQ(s.folder.read("batch.toml").value(), "format = 1");
  EXPECT_EQ(s.folder.read("picture.toml").problem().code, "not_text");
}

TEST(Folder, OpensNoFileAndNothingThatIsNotThere) {
  Served s;
  EXPECT_EQ(Folder::open(s.root() / "batch.toml").problem().code, "no_file");
  EXPECT_EQ(Folder::open(s.root() / "nowhere").problem().code, "no_file");
}

}  // namespace
}  // namespace stickwright
