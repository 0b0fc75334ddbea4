#include "audit/finite_population.hpp"
#include "audit/random.hpp"
#include "audit/sampling.hpp"
#include "desk/audit.hpp"

#include <algorithm>
#include <map>

namespace tarewell::desk {
namespace {

/// What may be drawn: records by id with their weight or amount.
struct population {
    std::vector<std::string> ids;
    std::vector<double> sizes;
    std::string unit;
    [[nodiscard]] double total() const {
        double sum = 0;
        for (const double each : sizes)
            sum += each;
        return sum;
    }
};

population population_of(const std::string& of, const season_view& seen,
                         const std::optional<quantity::span_of_days>& days) {
    population made;
    made.unit = of == "costs" ? "$" : std::string{quantity::name_of(seen.award().unit)};
    const auto in = [&](quantity::day on) { return !days || days->holds(on); };
    const auto add = [&](const std::string& id, double size) {
        made.ids.push_back(id);
        made.sizes.push_back(size);
    };
    const auto& season = seen.season;
    if (of == "tickets") {
        for (const auto& each : season.tickets)
            if (in(each.date)) add(each.id, figures::as_real(each.net_weight));
    } else if (of == "bales") {
        for (std::size_t i = 0; i < season.bales.size(); ++i)
            if (const auto& weighed = seen.reckoning.bales[i].weighed; weighed && in(weighed->on))
                add(season.bales[i].id.text(), figures::as_real(weighed->net));
    } else if (of == "bundles") {
        for (std::size_t i = 0; i < season.bundles.size(); ++i)
            if (const auto& receipt = seen.reckoning.bundles[i].accepting_receipt;
                receipt && in(season.receipts[*receipt].date))
                add(season.bundles[i].id.text(), figures::as_real(seen.reckoning.bundles[i].claim.estimate));
    } else {
        for (const auto& each : season.costs) // a credit has no size to be drawn by
            if (in(each.date) && each.amount.count() > 0)
                add(each.id, quantity::nearest_double(each.amount.count(), 100));
    }
    return made;
}

struct drawn_item {
    std::size_t item = 0;
    int hits = 1;
    bool certain = false;
    double chance = 0; ///< pps: of one draw
};

struct drawn {
    std::vector<drawn_item> items;
    int size = 0;
    double interval = 0; ///< monetary
    std::string reason;  ///< why nothing could be drawn
};

class sampler {
  public:
    sampler(const sample_request& how, const population& from)
        : how_{how}, from_{from}, risk_{read_tolerance(how.risk)}, tolerable_{read_tolerance(how.tolerable)} {}

    drawn draw() const {
        drawn made;
        if (from_.ids.empty() || !(from_.total() > 0)) {
            made.reason = fmt::format("there are no {} to draw from in these days", how_.of);
            return made;
        }
        made.size = how_.size > 0 ? how_.size : size_by_plan();
        const auto count = static_cast<int>(from_.ids.size());
        if (how_.method == "attribute") {
            made.size = std::min(made.size, count);
            for (const int item : audit::simple_random_sample(count, made.size, how_.seed))
                made.items.push_back({static_cast<std::size_t>(item)});
        } else if (how_.method == "pps") {
            for (const auto& each : audit::pps_sample(from_.sizes, made.size, how_.seed))
                made.items.push_back({static_cast<std::size_t>(each.item), each.hits, false, each.draw_probability});
        } else {
            made.interval = from_.total() / made.size;
            for (const auto& each : audit::monetary_sample(from_.sizes, made.interval, how_.seed))
                made.items.push_back({static_cast<std::size_t>(each.item), each.hits, each.certain});
        }
        return made;
    }

    /// What the drawn items say once they were looked at; null before.
    value evaluation(const drawn& of) const {
        if (of.items.empty()) return {};
        if (how_.method == "attribute") return how_.errors ? attribute(of) : value{};
        if (how_.found.empty()) return {};
        const auto found = found_values(of);
        return how_.method == "pps" ? pps(of, found) : monetary(of, found);
    }

  private:
    const sample_request& how_;
    const population& from_;
    double risk_, tolerable_;

    [[nodiscard]] audit::attribute_plan attribute_plan() const {
        audit::attribute_plan plan;
        plan.risk = risk_;
        plan.tolerable = tolerable_;
        plan.model = audit::attribute_model::hypergeometric;
        plan.population = static_cast<int>(from_.ids.size());
        return plan;
    }
    [[nodiscard]] audit::monetary_plan monetary_plan() const {
        return {from_.total(), tolerable_ * from_.total(), 0.0, risk_};
    }
    [[nodiscard]] int size_by_plan() const {
        if (how_.method == "monetary") return std::max(1, audit::monetary_sample_size(monetary_plan()).size);
        const auto size = audit::attribute_sample_size(attribute_plan());
        return size.feasible ? size.size : static_cast<int>(from_.ids.size());
    }

    /// ITEM=VALUE of the person: every value of a drawn item; the others are as booked.
    [[nodiscard]] std::map<std::string, double> found_values(const drawn& of) const {
        std::map<std::string, double> values;
        for (const auto& text : how_.found) {
            const auto cut = text.rfind('=');
            const auto read = quantity::read_decimal(cut == std::string::npos ? "" : text.substr(cut + 1));
            if (read.fault != quantity::decimal_fault::none)
                throw records::input_error(fmt::format("--found '{}' is not ITEM=VALUE; write it as T0001=45.2", text));
            const auto id = text.substr(0, cut);
            if (std::none_of(of.items.begin(), of.items.end(),
                             [&](const auto& each) { return from_.ids[each.item] == id; }))
                throw records::input_error(
                    fmt::format("--found names '{}', which is not in the sample with this seed and size", id));
            values[id] = quantity::nearest_double(read.value);
        }
        return values;
    }
    [[nodiscard]] double value_of(const drawn_item& each, const std::map<std::string, double>& found) const {
        const auto given = found.find(from_.ids[each.item]);
        return given == found.end() ? from_.sizes[each.item] : given->second;
    }

    [[nodiscard]] value attribute(const drawn& of) const {
        if (*how_.errors > of.size)
            throw records::input_error(fmt::format("--errors {} is more than the {} drawn", *how_.errors, of.size));
        const auto result = audit::evaluate_attribute(attribute_plan(), of.size, *how_.errors);
        return {{"errors", *how_.errors},
                {"rate", value{result.rate}},
                {"upper_rate", value{result.upper_rate}},
                {"acceptable", result.acceptable},
                {"sentence", result.sentence}};
    }
    [[nodiscard]] value pps(const drawn& of, const std::map<std::string, double>& found) const {
        std::vector<double> values, chances;
        for (const auto& each : of.items)
            for (int k = 0; k < each.hits; ++k) {
                values.push_back(value_of(each, found));
                chances.push_back(each.chance);
            }
        const auto total = audit::hansen_hurwitz_total(values, chances);
        value made;
        made["total"] = total.usable ? value{total.total} : value{};
        made["standard_error"] = total.usable ? value{total.standard_error} : value{};
        made["booked"] = value{from_.total()};
        made["sentence"] = total.sentence;
        return made;
    }
    [[nodiscard]] value monetary(const drawn& of, const std::map<std::string, double>& found) const {
        std::vector<audit::examined_item> items;
        for (const auto& each : of.items)
            items.push_back({from_.sizes[each.item], value_of(each, found), each.certain});
        const auto result = audit::evaluate_monetary(monetary_plan(), of.interval, items);
        return {{"known", value{result.known}},
                {"projected", value{result.projected}},
                {"basic_precision", value{result.basic_precision}},
                {"incremental", value{result.incremental}},
                {"upper_limit", value{result.upper_limit}},
                {"acceptable", result.acceptable},
                {"sentence", result.sentence}};
    }
};

std::string closing_sentence(const sample_request& how, const value& evaluation) {
    const std::string again = fmt::format("The same seed, size and ledger draw the same items. ");
    if (!evaluation.is_null())
        return again +
               "What was not drawn was not looked at: the sample bounds how much may be wrong, and can't say where.";
    return again + (how.method == "attribute"
                        ? "Look at each item, then run this again with --errors COUNT to evaluate them."
                        : "Look at each item, then run this again with --found ITEM=VALUE for each that differs.");
}

/// "upper error limit: 18.6 %"
std::string in_words(const std::string& name, const value& of, int places) {
    static const std::map<std::string, std::string> words{{"errors", "errors found"},
                                                          {"rate", "error rate"},
                                                          {"upper_rate", "upper error limit"},
                                                          {"acceptable", "within what can be borne"},
                                                          {"total", "estimated total"},
                                                          {"standard_error", "its standard error"},
                                                          {"booked", "as booked"},
                                                          {"known", "known error"},
                                                          {"projected", "projected error"},
                                                          {"basic_precision", "basic precision"},
                                                          {"incremental", "incremental allowance"},
                                                          {"upper_limit", "upper error limit"}};
    const auto written = of.json(false);
    const auto said = words.find(name);
    const auto& label = said == words.end() ? name : said->second;
    if (name == "acceptable") return fmt::format("{}: {}", label, written == "true" ? "yes" : "no");
    if (name == "errors" || of.is_null()) return fmt::format("{}: {}", label, of.is_null() ? "not known" : written);
    const double number = std::stod(written);
    return name.ends_with("rate") ? fmt::format("{}: {:.3g} %", label, 100.0 * number)
                                  : fmt::format("{}: {:.{}f}", label, number, places);
}

table table_of(const drawn& sample, const population& from, const sample_request& how) {
    const bool costs = how.of == "costs";
    table made{{"item", costs ? "amount=value" : "weight=value", "selections=hits", "=draw_probability",
                "certainty item=in_full"}};
    for (const auto& each : sample.items) {
        auto in_full = cell::only_if(how.method == "monetary", each.certain);
        in_full.text = each.certain ? "yes" : "";
        made.add({from.ids[each.item], fmt::format("{:.{}f}", from.sizes[each.item], costs ? 2 : 3), each.hits,
                  cell::only_if(how.method == "pps", each.chance), std::move(in_full)});
    }
    return made;
}

} // namespace

answer audit_sample(const season_view& seen, const audit_request& days, const sample_request& how) {
    const auto from = population_of(how.of, seen, days_of(days, seen));
    const sampler draws{how, from};
    const auto sample = draws.draw();
    const auto evaluation = draws.evaluation(sample);
    const auto sentence =
        sample.reason.empty() ? closing_sentence(how, evaluation) : "Nothing is drawn: " + sample.reason + ".";
    const auto items = table_of(sample, from, how);
    answer made;
    made.data = {{"as_of", seen.as_of},
                 {"method", how.method},
                 {"of", how.of},
                 {"seed", how.seed},
                 {"size", sample.size},
                 {"population", from.ids.size()},
                 {"population_value", from.total()},
                 {"unit", from.unit},
                 {"interval", how.method == "monetary" && sample.interval > 0 ? value{sample.interval} : value{}},
                 {"items", items.rows()},
                 {"evaluation", evaluation}};
    if (!sample.reason.empty()) made.data["reason"] = sample.reason;
    made.data["sentence"] = sentence;
    made.say("A sample of {} out of {} {} (method {}, seed {}).\n\n", sample.size, from.ids.size(), how.of, how.method,
             how.seed);
    if (!items.empty()) made.show(items);
    if (!evaluation.is_null()) {
        made.say("\n");
        for (const auto& [name, of] : *evaluation.named())
            if (name != "sentence") made.say("{}\n", in_words(name, of, how.of == "costs" ? 2 : 3));
        made.say("{}\n", *evaluation.find("sentence")->text());
    }
    made.say("\n{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
