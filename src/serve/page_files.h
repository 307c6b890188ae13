// page_files.h - the built page, read into memory once: no path that a request names ever reaches the disk.
#pragma once
#include <filesystem>
#include <map>
#include <string>

namespace stickwright {

struct PageFile {
  std::string type, body;
  std::string etag;   // with its quotes
  std::string cache;  // Cache-Control
};

// By path, as "/assets/index-4f9a21bc.js"; "/" is index.html.
using PageFiles = std::map<std::string, PageFile>;

// All files of the folder. Without an index.html: one page that says how to build the page.
//   assumes  names with eight or more letters and digits behind a dash in assets/ change when their content does
PageFiles read_page(const std::filesystem::path& folder);

// Where the page of this program lies: "page" beside it, or ../share/stickwright/page.   returns  "" when there is none
std::filesystem::path find_page();

}  // namespace stickwright
