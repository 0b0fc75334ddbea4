// Feeds any bytes to the reader of workbook layouts and to the check of its names: neither may fall over, every fault
// has a line of the text, a name and what would be right, and a layout without a fault has sheets that can be named.
#include "render/layout_check.hpp"
#include "render/layout_reader.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <set>

using namespace tarewell;

namespace {

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "the layout's reader is wrong: %s\n", what);
    std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const std::string text{reinterpret_cast<const char*>(data), size};
    const auto line_count = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) + 1;
    const auto reading = render::read_layout(text);
    std::size_t last = 0;
    for (const auto& each : reading.findings) {
        need(each.line >= last && each.line <= line_count, "a line that is not in the text, or out of order");
        need(!each.column.empty() && !each.what.empty() && !each.right.empty(), "a fault without words");
        last = each.line;
    }
    const auto faults = render::layout_faults({"layout", text});
    need(faults.size() >= reading.findings.size(), "the check forgets faults");
    if (!faults.empty()) return 0;
    std::set<std::string> names;
    for (const auto& sheet : reading.made.sheets)
        need(names.insert(sheet.name.text).second, "two sheets of one name");
    need(!names.empty(), "no sheet and no fault");
    return 0;
}
