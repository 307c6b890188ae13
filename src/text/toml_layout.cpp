#include "text/toml_layout.h"

#include <fmt/core.h>

namespace stickwright {
namespace {

class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
  }

  std::optional<TomlLayout> run() {
    TomlLayout layout;
    layout.headers.push_back({{}, false, {at_, at_}});
    for (skip_blank(); at_ < text_.size() && sound_; skip_blank()) {
      if (text_[at_] == '[')
        layout.headers.push_back(header());
      else
        layout.keys.push_back(key(layout.headers.size() - 1));
    }
    return sound_ ? std::optional(std::move(layout)) : std::nullopt;
  }

 private:
  bool ahead(std::string_view what) const { return text_.substr(at_).starts_with(what); }
  char here() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void expect(char c) {
    sound_ &= here() == c;
    ++at_;
  }
  void skip_spaces() {
    while (here() == ' ' || here() == '\t') ++at_;
  }
  // Spaces, line ends and comments.
  void skip_blank() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '#')
        at_ = std::min(text_.find('\n', at_), text_.size());
      else if (c == ' ' || c == '\t' || c == '\r' || c == '\n')
        ++at_;
      else
        return;
    }
  }

  // Up to behind the closing quotes. In basic texts a backslash guards what follows it.
  void quoted(std::string_view quotes, bool guards) {
    at_ += quotes.size();
    while (at_ < text_.size() && !ahead(quotes)) at_ += guards && text_[at_] == '\\' ? 2 : 1;
    sound_ &= ahead(quotes);
    at_ += quotes.size();
    // Up to two quotes may stand right before the three that close.
    if (quotes.size() == 3)
      for (int k = 0; k < 2 && here() == quotes.front(); ++k) ++at_;
  }

  bool text_value() {
    for (const std::string_view quotes : {"\"\"\"", "'''", "\"", "'"})
      if (ahead(quotes)) return quoted(quotes, quotes.front() == '"'), true;
    return false;
  }

  std::string key_part() {
    const std::size_t begin = at_;
    if (here() == '"' || here() == '\'') {
      quoted(text_.substr(at_, 1), here() == '"');
      return std::string(text_.substr(begin + 1, at_ - begin - 2));
    }
    while (at_ < text_.size() && std::string_view(" \t.=]\r\n#").find(text_[at_]) == std::string_view::npos) ++at_;
    sound_ &= at_ > begin;
    return std::string(text_.substr(begin, at_ - begin));
  }

  std::vector<std::string> key_path() {
    std::vector<std::string> path = {key_part()};
    for (skip_spaces(); here() == '.' && sound_; skip_spaces()) {
      ++at_;
      skip_spaces();
      path.push_back(key_part());
    }
    return path;
  }

  LaidHeader header() {
    LaidHeader h;
    h.span.begin = at_;
    h.list = ahead("[[");
    at_ += h.list ? 2 : 1;
    skip_spaces();
    h.path = key_path();
    expect(']');
    if (h.list) expect(']');
    h.span.end = at_;
    return h;
  }

  LaidKey key(std::size_t under) {
    LaidKey k;
    k.begin = at_;
    k.header = under;
    k.path = key_path();
    expect('=');
    skip_spaces();
    k.value = value();
    return k;
  }

  LaidValue value() {
    LaidValue v;
    v.span.begin = at_;
    if (here() == '[')
      list(v);
    else if (here() == '{')
      inline_table(v);
    else if (!text_value())
      bare();
    v.span.end = at_;
    sound_ &= at_ > v.span.begin && at_ <= text_.size();
    return v;
  }

  void list(LaidValue& v) {
    v.opens = '[';
    ++at_;
    for (skip_blank(); here() != ']' && sound_; skip_blank()) {
      v.items.push_back(value().span);
      skip_blank();
      v.comma_after.push_back(here() == ',');
      if (here() == ',') ++at_;
      sound_ &= at_ < text_.size();
    }
    expect(']');
  }

  void inline_table(LaidValue& v) {
    v.opens = '{';
    ++at_;
    for (skip_blank(); here() != '}' && sound_; skip_blank()) {
      (void)key(0);
      skip_blank();
      if (here() == ',') ++at_;
      sound_ &= at_ < text_.size();
    }
    expect('}');
  }

  // Numbers, dates, true and false; a date may have a space before its time.
  void bare() {
    const std::size_t begin = at_;
    while (at_ < text_.size() && std::string_view(",]}#\r\n").find(text_[at_]) == std::string_view::npos) ++at_;
    while (at_ > begin && (text_[at_ - 1] == ' ' || text_[at_ - 1] == '\t')) --at_;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  bool sound_ = true;
};

}  // namespace

std::optional<TomlLayout> layout_of(std::string_view text) {
  return Scanner(text).run();
}

TextSpan line_with_end_at(std::string_view text, std::size_t at) {
  const std::size_t before = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
  const std::size_t end = text.find('\n', at);
  return {before == std::string_view::npos ? 0 : before + 1, end == std::string_view::npos ? text.size() : end + 1};
}

TextSpan line_at(std::string_view text, std::size_t at) {
  TextSpan line = line_with_end_at(text, at);
  if (line.end > line.begin && text[line.end - 1] == '\n') --line.end;
  if (line.end > line.begin && text[line.end - 1] == '\r') --line.end;
  return line;
}

std::string_view line_end_of(std::string_view text) {
  const std::size_t at = text.find('\n');
  return at != std::string_view::npos && at > 0 && text[at - 1] == '\r' ? "\r\n" : "\n";
}

std::string quoted_toml(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += std::string("\\") + c;
    else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    else
      out += c;
  }
  return out + "\"";
}

}  // namespace stickwright
