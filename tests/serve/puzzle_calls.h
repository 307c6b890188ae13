// puzzle_calls.h - a workbench on a folder of its own, called without a network.
#pragma once
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "serve/routes.h"
#include "serve/workbench.h"

namespace stickwright {

// The folder holds copies of the examples and whatever a test puts in.
class PuzzleCalls : public testing::Test {
 protected:
  PuzzleCalls() {
    namespace fs = std::filesystem;
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    root_ = fs::path(testing::TempDir()) / (std::string("puzzle-") + test->name());
    fs::remove_all(root_);
    fs::create_directories(root_);
    for (const auto& file : fs::directory_iterator(STICKWRIGHT_SOURCE "/examples/wrenfield"))
      fs::copy(file.path(), root_ / file.path().filename());
    bench_ = std::make_unique<Workbench>(Folder::open(root_).take());
  }
  ~PuzzleCalls() override {
    bench_.reset();
    std::filesystem::remove_all(root_);
  }

  Reply call(const std::string& method, const std::string& path, const nlohmann::json& body,
             const std::map<std::string, std::string>& query = {}) {
    for (const Route& r : puzzle_routes())
      if (r.method == method && r.path == path) {
        Call c;
        c.method = method, c.path = path, c.query = query, c.body = body;
        return r.handler(*bench_, c);
      }
    ADD_FAILURE() << "no route " << method << " " << path;
    return {};
  }
  nlohmann::json get(const std::string& path, const std::map<std::string, std::string>& query = {}, int status = 200) {
    return answer(call("GET", path, nullptr, query), status);
  }
  nlohmann::json post(const std::string& path, const nlohmann::json& body, int status = 200,
                      const std::map<std::string, std::string>& query = {}) {
    return answer(call("POST", path, body, query), status);
  }

  void put(const std::string& name, const std::string& text) { std::ofstream(root_ / name, std::ios::binary) << text; }
  std::string text(const std::string& name) const {
    std::ifstream in(root_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }

  std::filesystem::path root_;
  std::unique_ptr<Workbench> bench_;

 private:
  static nlohmann::json answer(const Reply& reply, int status) {
    EXPECT_EQ(reply.status, status) << reply.body;
    return nlohmann::json::parse(reply.body);
  }
};

inline const nlohmann::json kArm = {
    {{"shape", "squat octahedron"}},
    {{"shape", "rhombic pyramid block"}, {"on", 1}, {"face", "+x+z"}, {"turn", 1}},
    {{"shape", "rhombic pyramid block"}, {"on", 1}, {"face", "+x-z"}, {"turn", 1}},
};

// Volume of a mesh on the wire, lattice units, by the divergence theorem.
inline double wire_volume(const nlohmann::json& mesh) {
  double sum = 0;
  const auto at = [&](std::size_t corner, std::size_t axis) {
    return mesh.at("xyz").at(3 * corner + axis).get<double>();
  };
  const auto& tri = mesh.at("tri");
  for (std::size_t t = 0; t + 2 < tri.size(); t += 3) {
    const std::size_t a = tri[t], b = tri[t + 1], c = tri[t + 2];
    sum += at(a, 0) * (at(b, 1) * at(c, 2) - at(b, 2) * at(c, 1)) +
           at(a, 1) * (at(b, 2) * at(c, 0) - at(b, 0) * at(c, 2)) +
           at(a, 2) * (at(b, 0) * at(c, 1) - at(b, 1) * at(c, 0));
  }
  return sum / 6;
}

inline double volume_of_cell() {
  return 2.0 / 3;  // two edges of length 2, at right angles, 1 apart
}

}  // namespace stickwright
