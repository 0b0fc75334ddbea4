#include "desk/paper_printed.hpp"

#include "ledger/whole_file.hpp"

#include <fmt/format.h>

#include <charconv>
#include <fstream>
#include <string_view>

namespace tarewell::desk {
namespace {

constexpr std::string_view note =
    "# Labels printed by `tarewell print labels`; may be deleted: then every label counts "
    "as not printed.";

std::string path_beside(const std::string& ledger) { return ledger + ".labels"; }

} // namespace

printed_labels printed_labels::of(const std::string& ledger_path) {
    printed_labels made;
    std::ifstream in{path_beside(ledger_path)};
    for (std::string line; std::getline(in, line);) {
        const auto cut = line.find(' ');
        if (cut == std::string::npos) continue;
        const auto word = line.substr(0, cut), said = line.substr(cut + 1);
        if (word == "stock") made.stock = said;
        if (word == "bundle") made.bundles.insert(said);
        if (word == "next") std::from_chars(said.data(), said.data() + said.size(), made.next_label);
    }
    return made;
}

void printed_labels::keep(const std::string& ledger_path) const {
    auto text = fmt::format("{}\nstock {}\nnext {}\n", note, stock, next_label);
    for (const auto& each : bundles)
        text += fmt::format("bundle {}\n", each);
    ledger::write_whole(path_beside(ledger_path), text);
}

} // namespace tarewell::desk
