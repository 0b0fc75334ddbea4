#include "ledger/entry_batch.hpp"

#include <cstring>

namespace tarewell::ledger {

std::string_view entry_batch::keep(std::string_view text) {
    if (text.empty()) return {};
    auto* copy = static_cast<char*>(texts_.allocate(text.size(), 1));
    std::memcpy(copy, text.data(), text.size());
    return {copy, text.size()};
}

row entry_batch::keep(const row& values) {
    row copy;
    copy.which = values.which;
    copy.worked_out = values.worked_out;
    for (std::size_t i = 0; i < records::info(values.which).columns.size(); ++i)
        copy.cells[i] = keep(values.cells[i]);
    return copy;
}

void entry_batch::clear() {
    entries_.clear();
    texts_.release();
}

} // namespace tarewell::ledger
