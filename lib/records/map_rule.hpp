#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// One rule of a map, which says how somebody else's sheet is laid out.
struct map_rule : recorded {
    std::string map, rule, value;
};

/// What a rule of the whole sheet may say: one of its words, or a text where it has none.
struct sheet_rule {
    std::string_view name;
    std::span<const std::string_view> words;
    std::string_view meaning;
};
std::span<const sheet_rule> sheet_rules();

/// What a rule of one kind of record is about: "unit.covers-2.length_ft" is the unit of the second cover's
/// length.
struct record_rule {
    enum class about { value, words, unit, by, when, repeat, known_by };
    kind which{};
    int number = 1; ///< of several records of the kind that one row makes
    about what = about::value;
    std::size_t column = 0; ///< of value, words, unit and by
};
/// None where the text names no kind, no column of it or nothing of that.
std::optional<record_rule> read_record_rule(std::string_view rule);

/// Units that a map may name, and what a kind's column counts in: "length_ft" in "ft".
struct unit_ratio {
    std::string_view from, to;
    std::int64_t times, over; ///< exact: 1 from = times/over to
};
std::span<const unit_ratio> unit_ratios();
std::string_view unit_of_column(std::string_view column);

/// The parts of a list written as "a | b", without spaces around them.
std::vector<std::string> listed(std::string_view text, char between = '|');

void check(const map_rule& made, const season& before, complaints& say);
void admit(map_rule&& made, season& to);
extern const kind_info map_rule_kind;

} // namespace tarewell::records
