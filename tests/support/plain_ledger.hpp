#pragma once
#include "records/kinds.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace tarewell::tests {

/// What one record says: its columns that are not empty.
using said_values = std::map<std::string, std::string>;

/// A kind and the one or two parts of a key.
struct record_name {
    records::kind which{};
    std::string first, second = {};
    friend auto operator<=>(const record_name&, const record_name&) = default;
};

/// A ledger in memory as simple as it can be thought of: each record's revisions in a list, and its few rules held
/// against everything in force at once. What the real one does is compared with it.
class plain_ledger {
  public:
    using state = std::map<record_name, said_values>;
    enum class outcome { done, unchanged, refused };
    struct change {
        plain_ledger::outcome outcome = outcome::refused;
        std::vector<std::pair<record_name, std::optional<said_values>>> rows = {}; ///< in the order of their entries
    };

    /// Everything in force as of a sequence.
    [[nodiscard]] state in_force(std::int64_t seq) const {
        state found;
        for (const auto& [name, revisions] : records_) {
            const revision* last = nullptr;
            for (const auto& each : revisions)
                if (each.entry <= seq) last = &each;
            if (last != nullptr && !last->voided) found.emplace(name, last->values);
        }
        return found;
    }

    [[nodiscard]] change record(const record_name& name, const said_values& values) const {
        const auto known = records_.find(name);
        if (known != records_.end()) {
            const bool said_before = std::any_of(known->second.begin(), known->second.end(),
                                                 [&](const revision& each) { return each.values == values; });
            return {said_before ? outcome::unchanged : outcome::refused};
        }
        auto after = now();
        after[name] = values;
        return accepted(after, {{name, values}});
    }

    /// `key` has one part for every row of the record. `shared`: the columns are the same in all of its rows.
    [[nodiscard]] change correct(const record_name& key, const said_values& changes, bool shared) const {
        auto targets = rows_of(key, shared);
        if (targets.empty()) return {};
        const bool all_voided =
            std::all_of(targets.begin(), targets.end(), [&](const auto& each) { return last(each).voided; });
        auto after = now();
        change made;
        for (const auto& name : targets) {
            if (last(name).voided && !all_voided && name != key) continue;
            auto values = last(name).values;
            for (const auto& [column, text] : changes) {
                if (text.empty())
                    values.erase(column);
                else
                    values[column] = text;
            }
            if (!last(name).voided && values == last(name).values) continue;
            after[name] = values;
            made.rows.emplace_back(name, values);
        }
        if (made.rows.empty()) return {outcome::unchanged};
        return accepted(after, std::move(made.rows));
    }

    [[nodiscard]] change take_out(const record_name& key) const {
        const auto targets = rows_of(key, false);
        auto after = now();
        change made;
        for (const auto& name : targets) {
            if (last(name).voided) continue;
            after.erase(name);
            made.rows.emplace_back(name, std::nullopt);
        }
        if (made.rows.empty()) return {targets.empty() ? outcome::refused : outcome::unchanged};
        return accepted(after, std::move(made.rows));
    }

    void apply(const change& made, const std::vector<std::int64_t>& entries) {
        for (std::size_t i = 0; i < made.rows.size(); ++i) {
            const auto& [name, values] = made.rows[i];
            auto& revisions = records_[name];
            revisions.push_back({entries.at(i), !values, values ? *values : revisions.back().values});
        }
    }

  private:
    struct revision {
        std::int64_t entry = 0;
        bool voided = false;
        said_values values; ///< of a void: what was voided
    };
    std::map<record_name, std::vector<revision>> records_;

    [[nodiscard]] state now() const { return in_force(INT64_MAX); }
    [[nodiscard]] const revision& last(const record_name& name) const { return records_.at(name).back(); }

    /// Rows in force by their entry, then voided ones by theirs.
    [[nodiscard]] std::vector<record_name> rows_of(const record_name& key, bool whole_record) const {
        std::vector<record_name> found;
        for (const auto& [name, revisions] : records_)
            if (name.which == key.which && name.first == key.first &&
                (whole_record || key.second.empty() || name.second == key.second))
                found.push_back(name);
        std::sort(found.begin(), found.end(), [&](const auto& a, const auto& b) {
            return std::pair{last(a).voided, last(a).entry} < std::pair{last(b).voided, last(b).entry};
        });
        return found;
    }

    static change accepted(const state& after, std::vector<std::pair<record_name, std::optional<said_values>>> rows) {
        if (!holds(after)) return {};
        return {outcome::done, std::move(rows)};
    }

    /// The rules between records.
    static bool holds(const state& all) {
        using records::kind;
        std::set<std::pair<kind, std::string>> defined;
        for (const auto& [name, values] : all)
            defined.emplace(name.which, name.first);
        struct reference {
            kind from;
            const char* column;
            kind to;
        };
        static constexpr reference references[] = {
            {kind::cover, "grower", kind::grower},       {kind::cover, "site", kind::site},
            {kind::bundle, "registration", kind::cover}, {kind::receipt, "site", kind::site},
            {kind::receipt, "bundle", kind::bundle},     {kind::bale, "site", kind::site},
            {kind::bale, "bundle", kind::bundle},        {kind::ticket, "subject", kind::bale}};
        std::set<std::string> accepted, baled;
        std::map<std::string, std::pair<std::string, std::string>> bales;
        for (const auto& [name, values] : all) {
            for (const auto& each : references)
                if (each.from == name.which && !defined.contains({each.to, values.at(each.column)})) return false;
            if (name.which == kind::receipt && values.at("outcome") == "accepted" &&
                !accepted.insert(values.at("bundle")).second)
                return false; // a bundle is accepted once
            if (name.which != kind::bale) continue;
            if (!baled.insert(values.at("bundle")).second) return false; // and in one bale
            const std::pair shared{values.at("date"), values.at("site")};
            if (bales.emplace(name.first, shared).first->second != shared) return false; // whose rows agree
        }
        return true;
    }
};

} // namespace tarewell::tests
