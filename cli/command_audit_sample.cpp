#include "audit/finite_population.hpp"
#include "audit/random.hpp"
#include "audit/sampling.hpp"
#include "audit_view.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    audit_request request;
    std::string method = "attribute", of = "tickets", risk = "5%", tolerable = "5%";
    int size = 0;
    std::uint64_t seed = 0;
    std::vector<std::string> found;
    std::optional<int> errors;
};

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
    sampler(const options& how, const population& from)
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
    json evaluation(const drawn& of) const {
        if (of.items.empty()) return nullptr;
        if (how_.method == "attribute") return how_.errors ? attribute(of) : json(nullptr);
        if (how_.found.empty()) return nullptr;
        const auto found = found_values(of);
        return how_.method == "pps" ? pps(of, found) : monetary(of, found);
    }

  private:
    const options& how_;
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
                throw ledger::input_error(fmt::format("--found '{}' is not ITEM=VALUE; write it as T0001=45.2", text));
            const auto id = text.substr(0, cut);
            if (std::none_of(of.items.begin(), of.items.end(),
                             [&](const auto& each) { return from_.ids[each.item] == id; }))
                throw ledger::input_error(
                    fmt::format("--found names '{}', which is not in the sample with this seed and size", id));
            values[id] = quantity::nearest_double(read.value.mantissa, quantity::power_of_ten(read.value.scale));
        }
        return values;
    }
    [[nodiscard]] double value_of(const drawn_item& each, const std::map<std::string, double>& found) const {
        const auto given = found.find(from_.ids[each.item]);
        return given == found.end() ? from_.sizes[each.item] : given->second;
    }

    [[nodiscard]] json attribute(const drawn& of) const {
        if (*how_.errors > of.size)
            throw ledger::input_error(fmt::format("--errors {} is more than the {} drawn", *how_.errors, of.size));
        const auto result = audit::evaluate_attribute(attribute_plan(), of.size, *how_.errors);
        return {{"errors", *how_.errors},
                {"rate", number(result.rate)},
                {"upper_rate", number(result.upper_rate)},
                {"acceptable", result.acceptable},
                {"sentence", result.sentence}};
    }
    [[nodiscard]] json pps(const drawn& of, const std::map<std::string, double>& found) const {
        std::vector<double> values, chances;
        for (const auto& each : of.items)
            for (int k = 0; k < each.hits; ++k) {
                values.push_back(value_of(each, found));
                chances.push_back(each.chance);
            }
        const auto total = audit::hansen_hurwitz_total(values, chances);
        json made;
        made["total"] = total.usable ? number(total.total) : json(nullptr);
        made["standard_error"] = total.usable ? number(total.standard_error) : json(nullptr);
        made["booked"] = number(from_.total());
        made["sentence"] = total.sentence;
        return made;
    }
    [[nodiscard]] json monetary(const drawn& of, const std::map<std::string, double>& found) const {
        std::vector<audit::examined_item> items;
        for (const auto& each : of.items)
            items.push_back({from_.sizes[each.item], value_of(each, found), each.certain});
        const auto result = audit::evaluate_monetary(monetary_plan(), of.interval, items);
        return {{"known", number(result.known)},
                {"projected", number(result.projected)},
                {"basic_precision", number(result.basic_precision)},
                {"incremental", number(result.incremental)},
                {"upper_limit", number(result.upper_limit)},
                {"acceptable", result.acceptable},
                {"sentence", result.sentence}};
    }
};

std::string closing_sentence(const options& how, const json& evaluation) {
    const std::string again = fmt::format("The same seed, size and ledger draw the same items. ");
    if (!evaluation.is_null())
        return again +
               "What was not drawn was not looked at: the sample bounds how much may be wrong, and can't say where.";
    return again + (how.method == "attribute"
                        ? "Look at each item, then run this again with --errors COUNT to hear what it says."
                        : "Look at each item, then run this again with --found ITEM=VALUE for each that differs.");
}

void run_sample(const options& how, context& with) {
    const auto seen = view(with, how.request.as_of);
    const auto from = population_of(how.of, seen, days_of(how.request, seen.award()));
    const sampler draws{how, from};
    const auto sample = draws.draw();
    const auto evaluation = draws.evaluation(sample);
    const auto sentence =
        sample.reason.empty() ? closing_sentence(how, evaluation) : "Nothing is drawn: " + sample.reason + ".";
    text_table table{{"item", how.of == "costs" ? "amount" : "weight", "hits", "in full"}};
    auto list = json::array();
    for (const auto& each : sample.items) {
        const auto size = fmt::format("{:.{}f}", from.sizes[each.item], how.of == "costs" ? 2 : 3);
        table.add({from.ids[each.item], size, fmt::format("{}", each.hits), each.certain ? "yes" : ""});
        json made{{"item", from.ids[each.item]}, {"value", size}, {"hits", each.hits}};
        if (how.method == "pps") made["draw_probability"] = number(each.chance);
        if (how.method == "monetary") made["in_full"] = each.certain;
        list.push_back(std::move(made));
    }
    if (how.request.json) {
        json made{{"as_of", seen.as_of},
                  {"method", how.method},
                  {"of", how.of},
                  {"seed", how.seed},
                  {"size", sample.size},
                  {"population", from.ids.size()},
                  {"population_value", number(from.total())},
                  {"unit", from.unit}};
        made["interval"] = how.method == "monetary" && sample.interval > 0 ? number(sample.interval) : json(nullptr);
        made["items"] = std::move(list);
        made["evaluation"] = evaluation;
        if (!sample.reason.empty()) made["reason"] = sample.reason;
        made["sentence"] = sentence;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << fmt::format("A sample of {} out of {} {} (method {}, seed {}).\n\n", sample.size, from.ids.size(),
                            how.of, how.method, how.seed);
    if (!sample.items.empty()) table.print(with.out);
    if (!evaluation.is_null()) {
        with.out << '\n';
        for (const auto& [name, value] : evaluation.items())
            if (name != "sentence") with.out << fmt::format("{}: {}\n", name, value.dump());
        with.out << evaluation["sentence"].get<std::string>() << '\n';
    }
    with.out << '\n' << sentence << '\n';
}

} // namespace

void add_audit_sample(const command& audit, context& with) {
    auto sub = audit.add("sample", "draw items for a reviewer, repeatable from the seed, and say what they tell");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("--method", how.method,
              "attribute: right or wrong; pps: by size, with replacement; monetary: by unit of money or weight")
        .one_of({"attribute", "pps", "monetary"})
        .shows_default();
    sub.value("--of", how.of, "what to draw from").one_of({"tickets", "bales", "bundles", "costs"}).shows_default();
    sub.value("--size", how.size, "how many (without: worked out from --risk and --tolerable)").between(1, 100'000);
    sub.value("--seed", how.seed, "any whole number; write it into your papers").required();
    sub.value("--risk", how.risk, "of accepting what should not be accepted").shows_default();
    sub.value("--tolerable", how.tolerable, "the rate of errors, or the share of the total, that can be borne")
        .shows_default();
    sub.value("--errors", how.errors, "attribute: how many of the items drawn were wrong").between(0, 100'000);
    sub.value("--found", how.found, "ITEM=VALUE: what an item drawn really is (may be given many times)").many();
    sub.does([&how, &with] { run_sample(how, with); });
}

} // namespace tarewell::cli
