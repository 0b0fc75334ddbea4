#pragma once
#include "desk/value.hpp"
#include "render/page.hpp"
#include "render/svg_chart.hpp"

#include <string>

namespace tarewell::render::parts {

using desk::value;

// How values are written for people. A report's exact value stays beside it.
std::string words_of(quantity::day day);           ///< "July 1, 2026"
std::string words_in(quantity::weight value);      ///< "8,934.394"
std::string words_in(quantity::money value);       ///< "9,421.01"
std::string with_sign(quantity::money value);      ///< "-$12.50"
std::string tons_text(double tons);                ///< "4.4362"
std::string percent_text(double ratio);            ///< "34.1%"
std::string count_text(std::int64_t count);        ///< "1,234"
std::string words_in(const figures::figure& of);   ///< without its unit
std::string shown_text(const figures::figure& of); ///< with its unit
/// A value as a figure of that unit would be written.
std::string words_in(const figures::value& value, std::string_view unit);

/// null for empty text
value text_or_none(std::string text);
value text_or_none(const std::optional<quantity::day>& day);

/// Adds list NAME and any_NAME.
void put_list(value& to, const std::string& name, value list);

// The parts of a page, each by its outermost name.
value quarter_part(const page_input& input);
/// Texts by their names, which a workbook needs without JSON: JSON's destructor takes memory.
using named_texts = std::vector<std::pair<std::string, std::string>>;
named_texts quarter_texts(const page_input& input);
named_texts award_texts(const page_input& input);
named_texts mark_texts(const page_input& input);
named_texts signed_texts(const page_input& input);
named_texts figure_texts(const figures::figure& of);
/// An object of texts; null for an empty one.
value json_of(const named_texts& texts);
/// One chart with its table, its words said of the period.
value part_of(chart of, const quantity::period& period);
value chart_part(const page_input& input);
value months_part(const page_input& input);
value causes_part(const page_input& input);
/// money and money_total
void put_money(value& to, const page_input& input);
value moves_part(const page_input& input);
value request_totals_part(const page_input& input);
value indirect_periods_part(const page_input& input);
/// null where no more was contributed than line 10i requires
value match_beyond_part(const page_input& input);
value narrative_part(const page_input& input);
/// across_quarters and across: a period's quarters side by side; none of a quarter
void put_quarters(value& to, const page_input& input);
value pace_part(const page_input& input);
value equivalents_part(const page_input& input);
/// costs_by_purpose and costs_by_site
void put_costs(value& to, const page_input& input);
value next_ton_part(const page_input& input);
/// What a ton cost by purpose, as bars.
chart purposes_chart(const page_input& input);
value calendar_part(const page_input& input);
value closing_remarks_part(const page_input& input);
value flag_groups_part(const page_input& input);
value method_part(const page_input& input);
value rows_of(const figures::table& of, const page_input& input);
/// tie_out and tie_out_ties
void put_tie_out(value& to, const page_input& input, const std::vector<figures::table>& tables);
value site_sheet_part(const page_input& input);
value grower_sheet_part(const page_input& input);

} // namespace tarewell::render::parts
