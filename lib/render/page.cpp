#include "render/page_data.hpp"

#include "figures/closing.hpp"
#include "figures/second_sums.hpp"
#include "grant/reporting_calendar.hpp"
#include "render/form_names.hpp"
#include "render/page_parts.hpp"
#include "render/report_tables.hpp"

#include <algorithm>

namespace tarewell::render {
namespace {

using namespace parts;

class page_maker {
  public:
    page_maker(const page_input& input, const std::set<std::string>& wanted) : in_{input}, wanted_{wanted} {}

    value run() {
        put("quarter", [&] { return quarter_part(in_); });
        put("award", [&] { return json_of(award_texts(in_)); });
        put("mark", [&] { return json_of(mark_texts(in_)); });
        put("signed", [&] { return json_of(signed_texts(in_)); });
        put_rows("closing_remarks", [&] { return closing_remarks_part(in_); });
        put("chart", [&] { return chart_part(in_); });
        put_rows("months", [&] { return months_part(in_); });
        put_rows("causes", [&] { return causes_part(in_); });
        if (is_wanted("money") || is_wanted("money_total") || is_wanted("money_unclassed")) put_money(page_, in_);
        put("moves", [&] { return moves_part(in_); });
        put_rows("request_totals", [&] { return request_totals_part(in_); });
        put("match_beyond", [&] { return match_beyond_part(in_); });
        put_rows("indirect_periods", [&] { return indirect_periods_part(in_); });
        put_rows("narrative", [&] { return narrative_part(in_); });
        if (is_wanted("across") || is_wanted("across_quarters")) put_quarters(page_, in_);
        put("pace", [&] { return pace_part(in_); });
        put("next_ton", [&] { return next_ton_part(in_); });
        put_rows("equivalents", [&] { return equivalents_part(in_); });
        if (is_wanted("costs_by_purpose") || is_wanted("costs_by_site")) put_costs(page_, in_);
        put_rows("calendar", [&] { return calendar_part(in_); });
        put("records_kept_until",
            [&] { return value(quantity::text_of(grant::records_kept_until(in_.season, in_.report.basis.days.to))); });
        put_rows("flag_groups", [&] { return flag_groups_part(in_); });
        put_rows("method", [&] { return method_part(in_); });
        figures();
        evidence();
        if (in_.site) put("site_sheet", [&] { return site_sheet_part(in_); });
        if (in_.grower) put("grower_sheet", [&] { return grower_sheet_part(in_); });
        return std::move(page_);
    }

  private:
    const page_input& in_;
    const std::set<std::string>& wanted_;
    value page_ = value::object();

    [[nodiscard]] bool is_wanted(const std::string& name) const {
        return wanted_.empty() || wanted_.contains(name) || wanted_.contains("any_" + name);
    }
    template <class Make> void put(const std::string& name, Make make) {
        if (is_wanted(name)) page_[name] = make();
    }
    template <class Make> void put_rows(const std::string& name, Make make) {
        if (is_wanted(name)) put_list(page_, name, make());
    }

    void figures() {
        value all = value::array(), by_name = value::object();
        for (const auto& each : in_.report.figures) {
            auto made = json_of(figure_texts(each));
            by_name[each.name] = made;
            all.push_back(std::move(made));
        }
        put_list(page_, "figures", std::move(all));
        page_["figure"] = std::move(by_name);
    }

    void evidence() {
        const auto& known = *known_tables().evidence;
        const bool any = is_wanted("tie_out") || std::any_of(known.begin(), known.end(), [&](const auto& each) {
                             return is_wanted(form_word(each.name));
                         });
        if (!any && !wanted_.contains("tie_out_ties")) return;
        const auto tables =
            figures::evidence_tables(in_.season, in_.reckoning, in_.report.basis, in_.with_names, in_.adjusted);
        for (const auto& table : tables)
            put_rows(form_word(table.name), [&] { return rows_of(table, in_); });
        if (in_.adjusted.empty()) put_rows("adjustments", [] { return value::array(); });
        if (is_wanted("tie_out") || is_wanted("tie_out_ties")) put_tie_out(page_, in_, tables);
    }
};

} // namespace

desk::value page_data(const page_input& input, const std::set<std::string>& wanted) {
    return page_maker{input, wanted}.run();
}

} // namespace tarewell::render
