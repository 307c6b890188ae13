#include "shop/batch.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "shop/gluing_reading.h"
#include "shop/reading.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

constexpr std::int64_t kMostCopies = 1000;
constexpr auto kLongestBatch = std::chrono::days(731);

PieceWoods read_piece_woods(const Table& woods, const std::string& piece) {
  PieceWoods result;
  result.piece = piece;
  result.piece_at = woods.key_place(piece);
  const auto names = woods.text_or_texts(piece);
  for (std::size_t i = 0; i < names.size(); ++i) {
    result.wood_at.push_back(woods.place(piece, i));
    result.woods.push_back(wood_named(woods, result.wood_at.back(), piece, names[i]));
  }
  return result;
}

std::vector<PieceWoods> read_woods(const Table& woods) {
  std::vector<PieceWoods> result;
  for (const std::string& piece : woods.keys()) result.push_back(read_piece_woods(woods, piece));
  if (woods.present() && result.empty())
    woods.report(woods.place(), "bad_count",
                 "woods: expected a wood for each piece, such as { \"*\" = \"black cherry\" }, found none");
  return result;
}

void read_block_woods(const Table& pieces, const std::string& piece, std::vector<BlockWood>& result) {
  const Table blocks = pieces.table(piece);
  for (const std::string& block : blocks.keys())
    result.push_back({piece, block, read_wood(blocks, block), pieces.key_place(piece), blocks.key_place(block),
                      blocks.place(block)});
}

PuzzleOrder read_puzzle(const Table& t, const fs::path& folder) {
  PuzzleOrder order;
  order.at = t.place();
  order.design = (folder / t.text("design")).lexically_normal();
  order.design_at = t.place("design");
  order.copies = static_cast<int>(t.integer("copies", {1, kMostCopies}));
  order.woods = read_woods(t.table("woods"));
  order.woods_at = t.place("woods");
  const Table block_woods = t.table_if("block_woods");
  for (const std::string& piece : block_woods.keys()) read_block_woods(block_woods, piece, order.block_woods);
  return order;
}

void read_dates(const Table& root, Batch& batch) {
  batch.start = root.date("start");
  batch.due = root.date("due");
  batch.start_at = root.place("start");
  batch.due_at = root.place("due");
  if (!batch.start.ok() || !batch.due.ok()) return;
  const auto span = std::chrono::sys_days(batch.due) - std::chrono::sys_days(batch.start);
  if (span < std::chrono::days(0)) root.report("due", "bad_date", "due: expected a date not before start");
  if (span > kLongestBatch)
    root.report("due", "bad_date", "due: expected a date at most two years after start; look at the year");
}

void read_head(const Table& root, Batch& batch) {
  batch.name = root.text("name");
  batch.stick = root.length("stick", kStickSection);
  batch.stick_at = root.place("stick");
  batch.spares = root.share_or("spares", {0, 1}, 0);
  batch.spares_at_least = static_cast<int>(root.integer_or("spares_at_least", {0, 100}, 0));
  batch.tolerance = root.length("tolerance", {Mm{0.001}, Mm{1}});
  batch.tolerance_at = root.place("tolerance");
  batch.own_paper = read_paper(root);
}

std::vector<fs::path> read_learn_from(const Table& root, const fs::path& folder) {
  std::vector<fs::path> out;
  for (const std::string& text : root.texts_or_none("learn_from")) {
    out.push_back((folder / text).lexically_normal());
    std::error_code error;
    if (!fs::is_regular_file(out.back(), error))
      root.report("learn_from", out.size() - 1, "no_file",
                  fmt::format("learn_from: there is no file {}; name the batch file of an earlier batch, from this "
                              "file's folder",
                              out.back().string()));
  }
  return out;
}

Result<Batch> with_shop(Batch batch, const Document& document) {
  std::error_code error;
  if (!fs::is_regular_file(batch.shop_path, error))
    return document.root().problem_at(
        "shop", "no_file",
        fmt::format("shop: there is no file {}; the path starts at the batch file's folder", batch.shop_path.string()));
  auto shop = load_shop(batch.shop_path);
  if (!shop) return shop.problem();
  batch.shop = shop.take();
  return batch;
}

}  // namespace

const PieceWoods* woods_of(const PuzzleOrder& order, std::string_view piece) {
  const auto entry = [&](std::string_view name) {
    const auto at =
        std::find_if(order.woods.begin(), order.woods.end(), [&](const PieceWoods& w) { return w.piece == name; });
    return at == order.woods.end() ? nullptr : &*at;
  };
  const PieceWoods* own = entry(piece);
  return own ? own : entry(kEveryPiece);
}

const BlockWood* block_wood_of(const PuzzleOrder& order, std::string_view piece, std::string_view block) {
  const BlockWood* for_every = nullptr;
  for (const BlockWood& b : order.block_woods) {
    if (b.block != block) continue;
    if (b.piece == piece) return &b;
    if (b.piece == kEveryPiece) for_every = &b;
  }
  return for_every;
}

int spares_for(const Batch& batch, int needed) {
  if (needed <= 0) return 0;
  // 8 % of 100 is 8, though the product of the two doubles may lie a hair above.
  const int by_share = static_cast<int>(std::ceil(batch.spares * needed - 1e-9));
  return std::max(by_share, batch.spares_at_least);
}

Result<Batch> load_batch(const fs::path& path) {
  const auto read = read_toml(path);
  if (!read) return read.problem();
  const Document& document = read.value();
  const Table root = document.root();
  const fs::path folder = path.parent_path();
  root.format(1);
  Batch batch;
  batch.source = document.source();
  read_head(root, batch);
  read_dates(root, batch);
  batch.shop_path = (folder / root.text("shop")).lexically_normal();
  for (const Table& t : root.tables("puzzle")) batch.puzzles.push_back(read_puzzle(t, folder));
  batch.fit = read_fit_asked(document);
  batch.customer = read_customer(root.table_if("customer"));
  batch.learn_from = read_learn_from(root, folder);
  if (auto problem = document.finish()) return *std::move(problem);
  return with_shop(std::move(batch), document);
}

}  // namespace stickwright
