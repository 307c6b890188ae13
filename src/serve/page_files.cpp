#include "serve/page_files.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <iterator>
#include <system_error>

#include "serve/folder.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kNotBuilt = R"(<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>stickwright</title>
<h1>The page is not built</h1>
<p>The workbench runs, but its page was not found beside the program. In the source folder:</p>
<pre>cd web
npm ci
npm run build</pre>
<p>and build the program again. The calls under <a href="/api/folder">/api/folder</a> answer meanwhile.</p>
</html>
)";

const std::map<std::string, std::string>& types() {
  static const std::map<std::string, std::string> all = {{".html", "text/html; charset=utf-8"},
                                                         {".js", "text/javascript; charset=utf-8"},
                                                         {".css", "text/css; charset=utf-8"},
                                                         {".json", "application/json"},
                                                         {".map", "application/json"},
                                                         {".webmanifest", "application/manifest+json"},
                                                         {".svg", "image/svg+xml"},
                                                         {".png", "image/png"},
                                                         {".jpg", "image/jpeg"},
                                                         {".webp", "image/webp"},
                                                         {".ico", "image/x-icon"},
                                                         {".woff2", "font/woff2"},
                                                         {".wasm", "application/wasm"},
                                                         {".md", "text/plain; charset=utf-8"},
                                                         {".txt", "text/plain; charset=utf-8"}};
  return all;
}

std::string type_of(const fs::path& file) {
  const auto found = types().find(file.extension().string());
  return found == types().end() ? "application/octet-stream" : found->second;
}

// "index-4f9a21bc.js": a build gives it another name when its content changes.
bool is_named_by_content(const std::string& path) {
  if (!path.starts_with("/assets/")) return false;
  const std::string stem = fs::path(path).stem().string();
  const std::size_t dash = stem.find('-');
  if (dash == std::string::npos) return false;
  // The name itself may hold dashes, and so may the part that stands for the content, which is the last eight.
  return stem.size() - dash > 8 && std::all_of(stem.end() - 8, stem.end(),
                                               [](unsigned char c) { return std::isalnum(c) || c == '_' || c == '-'; });
}

PageFile page_file(const std::string& path, std::string body) {
  PageFile out{type_of(path), std::move(body), "", "no-cache"};
  out.etag = fmt::format("\"{}\"", version_of(out.body));
  if (is_named_by_content(path)) out.cache = "public, max-age=31536000, immutable";
  return out;
}

std::string content_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

PageFiles read_page(const fs::path& folder) {
  PageFiles out;
  std::error_code error;
  if (!folder.empty())
    for (auto entry = fs::recursive_directory_iterator(folder, error);
         !error && entry != fs::recursive_directory_iterator{}; entry.increment(error)) {
      std::error_code gone;
      if (!entry->is_regular_file(gone)) continue;
      const std::string path = fmt::format("/{}", entry->path().lexically_relative(folder).generic_string());
      out[path] = page_file(path, content_of(entry->path()));
    }
  if (!out.contains("/index.html")) out["/index.html"] = page_file("/index.html", kNotBuilt);
  out["/"] = out["/index.html"];
  return out;
}

fs::path find_page() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (error) return {};
  for (const char* place : {"page", "../share/stickwright/page"}) {
    const fs::path folder = (program.parent_path() / place).lexically_normal();
    if (fs::exists(folder / "index.html", error)) return folder;
  }
  return {};
}

}  // namespace stickwright
