#include "figures/make_columns.hpp"
#include "figures/quarters_across.hpp"
#include "render/fill_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

using namespace figures; // NOLINT

class quarters_filler {
  public:
    explicit quarters_filler(const page_input& in)
        : period_{in.report.basis.period}, across_{quarters_side_by_side(in.season, in.reckoning, in.report)} {
        for (std::size_t i = 0; i < across_.columns.size(); ++i) {
            const auto& each = across_.columns[i];
            const char* state = each.closed != nullptr ? "filed" : "open";
            number(fmt::format("quarter_{}", i + 1), fmt::format("{}, {}", each.name, state));
        }
        number("changed", "Changed since filing");
        all_ = rows_.columns.size();
        number("all", title_of(period_));
        rows_.columns.push_back(words("how", "How they go together"));
        check_ = rows_.columns.size();
        number("check", "Sum less all");
    }

    sheet_data run() {
        for (const auto& line : across_.lines)
            add(line);
        auto sheet = whole_sheet(std::move(rows_));
        sheet.special = std::move(special_);
        return sheet;
    }

  private:
    quantity::period period_;
    quarters_across across_;
    table rows_{"Quarters", "", {words("figure", "Figure"), words("unit", "Unit")}, {}};
    std::size_t all_ = 0, check_ = 0; ///< columns
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special_;

    void number(std::string name, std::string heading) {
        rows_.columns.push_back({std::move(name), std::move(heading), content::ratio, false});
    }

    void add(const figure_across& line) {
        const auto at = rows_.rows.size();
        auto row = row_of(line.of->meaning, line.of->unit);
        const auto show = [&](const value& of) {
            special_[{at, row.size()}].how = look_of(of, line.of->unit);
            row.push_back(cell_of(of));
        };
        for (const auto& each : across_.columns)
            show(each.shown_of(line.of->name));
        show(line.changed);
        show(line.of->value);
        row.emplace_back(in_words(line.how, period_));
        const bool sums = line.how == across::sums && !std::holds_alternative<std::monostate>(line.of->value);
        row.push_back(sums ? cell{std::int64_t{0}} : cell{});
        special_[{at, 0}].how = look::wrapped;
        special_[{at, all_}].formula = "=" + line.of->name;
        if (sums)
            special_[{at, check_}] = {fmt::format("=ROUND(SUM(C#:{}#)-{}#,{})", letters_of(all_ - 1), letters_of(all_),
                                                  std::min(places_of(line.of->value), 6)),
                                      {},
                                      look::difference};
        rows_.rows.push_back(std::move(row));
    }
};

} // namespace

std::string letters_of(std::size_t column) {
    constexpr std::size_t letters = 26;
    const auto last = std::string(1, static_cast<char>('A' + column % letters));
    return column < letters ? last : letters_of(column / letters - 1) + last;
}

std::optional<sheet_data> quarters_sheet(const page_input& in) {
    if (in.report.basis.period.is_quarter()) return std::nullopt;
    return quarters_filler{in}.run();
}

} // namespace tarewell::render
