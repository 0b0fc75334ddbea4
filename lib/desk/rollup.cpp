#include "desk/rollup.hpp"

#include "desk/ledger_faults.hpp"
#include "desk/rollup_notes.hpp"
#include "desk/season_view.hpp"
#include "figures/quarters_across.hpp"
#include "figures/quick_view.hpp"
#include "figures/soundness.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <mutex>
#include <new>
#include <thread>

namespace tarewell::desk {
namespace {

using quantity::text_of;

/// A closing that its own rows do not give is no closing to sum.
void hold_to_closing(const rolled_ledger& ledger) {
    const auto differ = figures::filed_otherwise(ledger.filed->figures, ledger.report);
    if (differ.empty()) return;
    throw records::ledger_error(fmt::format(
        "{0}: its closing of {1} (entry {2}) filed other figures than its rows give: {3}; find out why with: "
        "tarewell --ledger {0} ledger check",
        ledger.path, text_of(ledger.report.basis.period), ledger.filed->entry, differ));
}

std::string filed_quarters(const records::season& season, const figures::basis& on) {
    std::string names;
    if (on.period.is_quarter()) return names;
    for (const auto quarter : figures::quarters_of(season, on.days))
        if (season.closing_of(quarter) != nullptr) names += (names.empty() ? "" : ", ") + text_of(quarter);
    return names;
}

/// The season is let go again: no ledger's rows stay in memory.
rolled_ledger read_ledger(const std::string& path, const quantity::period& period) {
    const auto file = ledger::ledger_file::open(path);
    const ledger::ledger_file::snapshot one_state{file};
    rolled_ledger made;
    made.path = path;
    made.head = file.head();
    const auto as_of = figures::as_of_period(file, period);
    made.as_of = file.head_at(as_of);
    auto view = figures::quick_view(file, period, as_of, ledger::people::unnamed);
    const auto& on = view.report.basis;
    made.terms = view.season.terms_on(on.days.to);
    made.brings = {
        {}, made.terms.unit, made.terms.goal_tons, figures::exact_figures_of(view.season, view.reckoning, on)};
    made.filed = figures::filed_at(file, period, as_of);
    if (!made.filed) made.quarters_filed = filed_quarters(view.season, on);
    made.nothing_dated = !figures::has_anything(view.report);
    made.report = std::move(view.report);
    if (made.filed) hold_to_closing(made);
    return made;
}

/// Two, where the rows of any two fit into a gigabyte together: they take up to 1.8 times their file. A database does
/// not tell how large it is.
std::size_t as_many_as_fit(const std::vector<std::string>& paths) {
    constexpr std::uintmax_t most_bytes = 500'000'000;
    std::vector<std::uintmax_t> sizes;
    for (const auto& path : paths) {
        std::error_code unknown;
        const auto size = std::filesystem::file_size(path, unknown);
        sizes.push_back(unknown ? most_bytes : size);
    }
    std::sort(sizes.rbegin(), sizes.rend());
    return sizes.size() > 1 && sizes[0] + sizes[1] <= most_bytes ? 2 : 1;
}

/// Reads ledgers, several at a time; a ledger stays with one thread.
class reader {
  public:
    reader(const rollup_request& what, const quantity::period& period) : what_{what}, period_{period} {
        read_.resize(what.ledgers.size());
    }

    /// In the order in which they are named. Throws the fault of the first that has one.
    std::vector<rolled_ledger> run() {
        {
            std::vector<std::jthread> others;
            const auto at_once = what_.at_once != 0 ? what_.at_once : as_many_as_fit(what_.ledgers);
            for (std::size_t i = 1; i < std::min(at_once, read_.size()); ++i)
                others.emplace_back([this] { read_on(); });
            read_on();
        }
        std::vector<rolled_ledger> made;
        for (auto& each : read_) {
            if (each.out_of_memory) throw std::bad_alloc{};
            if (each.fault) each.fault->raise();
            if (each.ledger) made.push_back(std::move(*each.ledger)); // all are there where none has a fault
        }
        return made;
    }

  private:
    struct outcome {
        std::optional<rolled_ledger> ledger;
        std::optional<ledger_fault> fault;
        bool out_of_memory = false;
    };
    const rollup_request& what_;
    const quantity::period& period_;
    std::vector<outcome> read_;
    std::atomic<std::size_t> next_ = 0;
    std::atomic<bool> failed_ = false;
    std::mutex telling_;
    std::size_t done_ = 0;

    void read_on() {
        for (auto at = next_++; at < read_.size() && !failed_; at = next_++) {
            auto& made = read_[at];
            try {
                made.fault =
                    fault_in(what_.ledgers, at, [&] { made.ledger = read_ledger(what_.ledgers[at], period_); });
            } catch (const std::bad_alloc&) {
                made.out_of_memory = true;
            }
            if (!made.ledger) failed_ = true;
            const std::lock_guard alone{telling_};
            ++done_;
            if (what_.progress) what_.progress(done_);
        }
    }
};

bool is_before(const quantity::span_of_days& a, const quantity::span_of_days& b) {
    return a.from != b.from ? a.from < b.from : a.to < b.to;
}

/// A to Z, then AA: 0 is A.
std::string letters_of(std::size_t number) {
    constexpr std::size_t letters = 26;
    const std::string last(1, static_cast<char>('A' + number % letters));
    return number < letters ? last : letters_of(number / letters - 1) + last;
}

rolled_sum sum_of(const rollup& of, std::size_t from, std::size_t to) {
    rolled_sum made;
    made.days = of.ledgers[from].days();
    std::vector<const figures::summand*> brought;
    for (auto i = from; i < to; ++i) {
        const auto& days = of.ledgers[i].days();
        made.same_days = made.same_days && days.from == made.days.from && days.to == made.days.to;
        made.days = {std::min(made.days.from, days.from), std::max(made.days.to, days.to)};
        made.ledgers.push_back(i);
        brought.push_back(&of.ledgers[i].brings);
    }
    made.name = "Summed";
    if (from > 0 || to < of.ledgers.size())
        made.name += fmt::format(", {} to {}", text_of(made.days.from), text_of(made.days.to));
    else if (!made.same_days)
        made.name += " over different days";
    made.sum = figures::sum_of(brought, of.unit, of.period);
    return made;
}

void add_sums(rollup& to) {
    const auto& all = to.ledgers;
    const auto whole = sum_of(to, 0, all.size());
    for (std::size_t from = 0; !whole.same_days && from < all.size();) {
        auto end = from + 1;
        while (end < all.size() && !is_before(all[from].days(), all[end].days()))
            ++end;
        if (end - from > 1) to.sums.push_back(sum_of(to, from, end));
        from = end;
    }
    to.sums.push_back(whole);
}

} // namespace

std::string rollup::title() const {
    return fmt::format("{} of {}", counted(ledgers.size(), "ledger", "ledgers"), quantity::title_of(period));
}

rollup roll_up(const rollup_request& what) {
    rollup made;
    made.period = period_named(what.period);
    refuse_unfit(what.ledgers);
    made.ledgers = reader{what, made.period}.run();
    made.unit = what.unit.value_or(made.ledgers.front().terms.unit);
    std::stable_sort(made.ledgers.begin(), made.ledgers.end(),
                     [](const auto& a, const auto& b) { return is_before(a.days(), b.days()); });
    for (std::size_t i = 0; i < made.ledgers.size(); ++i)
        made.ledgers[i].label = made.ledgers[i].brings.label = letters_of(i);
    add_sums(made);
    made.notes = notes_of(made);
    return made;
}

} // namespace tarewell::desk
