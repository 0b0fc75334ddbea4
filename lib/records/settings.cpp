#include "records/settings.hpp"

#include "quantity/day.hpp"

#include <string>

namespace tarewell::records {
namespace {

using st = setting_type;

constexpr setting_info settings[] = {
    {"curvature_factor", st::positive, "1.5",
     "film area over floor area of a cover without a rise (common practice, no source)"},
    {"area_weight_lb_per_ft2", st::positive, "0.04",
     "claimed weight of film without a thickness, lb/ft2 (common practice, no source)"},
    {"density_g_per_cm3", st::positive, "0.92", "density of LDPE film, g/cm3"},
    {"subaward_limit", st::amount, "50000",
     "what passes this amount in each subaward is outside the indirect base (2 CFR 200.1)"},
    {"indirect_rate_type", st::list, "",
     "type of the indirect rate, for line 11 of SF-425: provisional, predetermined, final, fixed or de minimis"},
    {"estimate_tolerance_percent", st::positive, "25",
     "a bale or bundle further than this from its estimate is flagged"},
    {"bale_volume_ft3", st::nonnegative, "35",
     "the baler's box; 30 x 42 x 48 in is 35 ft3; 0 turns the density flag off"},
    {"bale_density_low_lb_per_ft3", st::nonnegative, "0",
     "a bale lighter than this for its size is flagged; one heavier than solid film blocks closing"},
    {"net_least_of_claim", st::nonnegative, "0.4",
     "a bale's net below this part of its estimate blocks closing (common practice, no source)"},
    {"net_most_of_claim", st::positive, "1.6",
     "a bale's net above this multiple of its estimate blocks closing (common practice, no source)"},
    {"net_question_from", st::positive, "3",
     "a net this many standard deviations from what the other tickets let expect is a question"},
    {"net_blocks_from", st::positive, "4", "a net this many standard deviations from it blocks closing"},
    {"acceptance_tolerance_percent", st::nonnegative, "5",
     "an accepted weight further than this from what was shipped is flagged (common practice, no source)"},
    {"handing_in_days", st::whole, "21",
     "days after its registration by which a bundle is handed in (common practice, no source)"},
    {"bundle_aim_lb", st::positive, "50", "a bundle's usual weight (common practice, no source)"},
    {"bundle_maximum_lb", st::positive, "60",
     "maximum weight of a bundle; a claim above it is flagged, above twice it blocks closing (common practice, no "
     "source)"},
    {"report_due_days", st::whole, "30", "days after a quarter by which its report is due (2 CFR 200.329)"},
    {"report_due_dates", st::list, "",
     "fixed due dates instead, such as '04-30; 07-31; 10-31; 01-31': a report is due on the first after its quarter"},
    {"annual_due_days", st::whole, "0",
     "days after a program year for an annual report (90 in 2 CFR 200.329); 0: none"},
    {"final_due_days", st::whole, "120", "days after the award ends for the final report (2 CFR 200.329)"},
    {"records_kept_years", st::whole, "3", "years to keep records after the final report (2 CFR 200.334)"},
    {"budget_move_percent", st::nonnegative, "10",
     "moves between budget lines past this percent of the total may need the agency's prior approval (2 CFR 200.308)"},
    {"tipping_fee_per_ton", st::amount, "0",
     "what a ton of film costs at the landfill; 0: no disposal avoided is reported"},
    {"landfill_lb_per_yd3", st::nonnegative, "0",
     "what a cubic yard of film weighs in the landfill, by landfill_source; 0: no volume is reported"},
    {"landfill_source", st::list, "",
     "the publication that landfill_lb_per_yd3 is from; without it no volume is reported"},
    {"climate_factor", st::nonnegative, "0",
     "metric tons of CO2 equivalent avoided per ton diverted, by climate_source; 0: nothing is said about climate"},
    {"climate_source", st::list, "",
     "the published factor that climate_factor is, by its name; without it nothing is said about climate"},
    {"paper", st::list, "letter", "paper that sheets and labels are printed on: letter or a4"},
    {"label_stock", st::list, "",
     "sheets of labels, such as '4x2in 2x5 margins 0.156x0.5 gaps 0.188x0'; empty: 4x2in, on A4 99.1x67.7mm"},
    {"office_contact", st::list, "", "whom printed sheets say to call, name and telephone; empty leaves a line"},
    {"accepted_films", st::list, "", "films that the program takes, set apart by ';'; empty takes any without a flag"},
};

} // namespace

std::span<const setting_info> all_settings() { return settings; }

const setting_info* find_setting(std::string_view name) {
    for (const auto& each : settings)
        if (each.name == name) return &each;
    return nullptr;
}

std::optional<std::vector<date::month_day>> read_due_dates(std::string_view text) {
    std::vector<date::month_day> days;
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find(';', from), text.size());
        auto part = text.substr(from, end - from);
        while (part.starts_with(' '))
            part.remove_prefix(1);
        while (part.ends_with(' '))
            part.remove_suffix(1);
        const auto on = quantity::read_day("2027-" + std::string{part}); // no leap year: a date of every year
        if (!on) return std::nullopt;
        const date::year_month_day day{*on};
        days.push_back(day.month() / day.day());
        from = end + 1;
    }
    return days;
}

} // namespace tarewell::records
