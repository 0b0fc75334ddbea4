#pragma once
#include "records/kinds.hpp"
#include "records/numbered_texts.hpp"

#include <memory>

namespace tarewell::records {

/// Every kind's ids by number, and where in a season the record of each stands.
class numbered_ids {
  public:
    using texts_of_kinds = std::array<std::shared_ptr<const numbered_texts>, kind_count>;
    explicit numbered_ids(texts_of_kinds texts);

    static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
    [[nodiscard]] const numbered_texts& texts(kind of) const { return *texts_[static_cast<std::size_t>(of)]; }
    [[nodiscard]] std::size_t place_of(kind which, std::uint32_t number) const {
        const auto& places = places_[static_cast<std::size_t>(which)];
        return number >= places.size() || places[number] == no_place ? nowhere : std::size_t{places[number]};
    }
    [[nodiscard]] std::size_t place_of(kind which, std::string_view id) const;
    /// The first place that is learnt of an id stays. False where the id has no number.
    bool learn(kind which, std::string_view id, std::size_t place);
    void learn(kind which, std::uint32_t number, std::size_t place);

  private:
    static constexpr std::uint32_t no_place = 0xFFFFFFFF;
    texts_of_kinds texts_;
    std::array<std::vector<std::uint32_t>, kind_count> places_; ///< by number
};

/// Rows of one kind that are in force, column by column, their texts by number. A column that the season doesn't keep,
/// and one of contact details, is 0 throughout.
struct coded_rows {
    static constexpr std::size_t most = 512;
    std::size_t count = 0;
    std::size_t key = 0; ///< the column of their ids
    std::array<recorded, most> by{};
    std::array<std::array<std::uint32_t, most>, most_columns> cells{};
    std::array<std::array<std::optional<std::int64_t>, most>, most_worked_out> worked_out{};
};

/// What the numbers of one column stand for, and what was read out of each text: it is read once.
class coded_column {
  public:
    const numbered_texts* texts = nullptr; ///< null where the row itself says what kind it names
    const numbered_ids* ids = nullptr;
    kind named{}; ///< where the column names a kind's records

    [[nodiscard]] std::string_view text(std::uint32_t number) const { return (*texts)[number]; }
    [[nodiscard]] std::size_t place(std::uint32_t number) const { return ids->place_of(named, number); }

    /// The value of a text; `read` makes it where it was not read before.
    template <class Value, class Read> const Value& value(std::uint32_t number, Read&& read) {
        using kept = std::vector<std::optional<Value>>;
        if (!values_) values_ = std::make_shared<kept>(texts->size());
        auto& found = (*static_cast<kept*>(values_.get()))[number];
        if (!found) read(found.emplace(), text(number));
        return *found;
    }

  private:
    std::shared_ptr<void> values_;
};

using coded_columns = std::array<coded_column, most_columns>;

/// One of the rows as its texts, which last as long as the texts do.
row row_of(const kind_info& kind, const coded_rows& rows, std::size_t index, const coded_columns& columns);

/// A kind as rows whose texts are numbered see it.
struct coded_kind {
    kind which{};
    std::array<bool, most_columns> kept{}; ///< the columns that a season keeps; the others stand in the ledger alone
    /// What kind_info::add does, by the same reading of each text, while an adding_by_number lives. `lost` hears of the
    /// row and the column.
    void (*add)(season& to, const coded_rows& rows, std::span<coded_column> columns,
                const std::function<void(std::size_t row, std::size_t column)>& lost) = nullptr;
};
const coded_kind& coded(kind which);
// Each is defined beside its kind's table of columns.
extern const coded_kind award_coded, site_coded, grower_coded, scale_coded, cover_coded, bundle_coded, receipt_coded,
    haul_coded, bale_coded, reject_coded, shipment_coded, ticket_coded, acceptance_coded, budget_coded, cost_coded,
    inkind_coded, setting_coded, amendment_coded, rebudget_coded, rate_coded, obligation_coded, liquidation_coded,
    income_coded, request_coded, payment_coded, note_coded, confirmation_coded, map_rule_coded, merge_coded,
    closing_coded, document_coded, erasure_coded;

/// While it lives, this thread adds records to a season by the numbers of their ids, and the season finds ids by them
/// from then on. Records learn their ids where they are admitted, which knows nothing of numbers.
class adding_by_number {
  public:
    explicit adding_by_number(numbered_ids::texts_of_kinds texts);
    ~adding_by_number();
    adding_by_number(const adding_by_number&) = delete;
    adding_by_number& operator=(const adding_by_number&) = delete;
    /// The one that lives; null for none.
    static adding_by_number* now();

    const std::shared_ptr<numbered_ids> ids;
    std::uint32_t own = 0; ///< the number of the id of the record that is being added; 0 for none
};

/// season::place_of the id that a record which is being added has itself.
std::size_t own_place(const season& of, kind which, std::string_view id);
/// Memory for so many rows more of a kind, got at once.
void make_room(season& in, kind which, std::size_t rows);

/// What a season says of an entry that names what nothing defines: throws ledger_error.
[[noreturn]] void refuse_undefined(const row& values, std::size_t column, entry_no entry);

} // namespace tarewell::records
