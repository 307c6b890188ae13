// scratch.h - folders that tests of the workbench may fill as they like.
#pragma once
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

namespace stickwright {

// An empty folder of its own for each test, gone afterwards.
class Scratch {
 public:
  Scratch() {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    root_ = std::filesystem::path(testing::TempDir()) /
            (std::string(test->test_suite_name()) + "-" + test->name() + "-" + std::to_string(::getpid()));
    std::filesystem::remove_all(root_);
    std::filesystem::create_directories(root_);
  }
  ~Scratch() {
    std::error_code ignored;
    std::filesystem::remove_all(root_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  const std::filesystem::path& root() const { return root_; }
  std::filesystem::path write(const std::string& name, const std::string& text) const {
    const std::filesystem::path file = root_ / name;
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << text;
    return file;
  }

 private:
  std::filesystem::path root_;
};

}  // namespace stickwright
