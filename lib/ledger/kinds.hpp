#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace tarewell::ledger {

/// The kinds of record, in the order in which a season's files are taken in.
enum class kind : std::uint8_t {
    award,
    site,
    grower,
    scale,
    cover,
    bundle,
    receipt,
    haul,
    bale,
    reject,
    shipment,
    ticket,
    acceptance,
    budget,
    cost,
    inkind,
    setting,
    amendment,
    rebudget,
    rate,
    obligation,
    liquidation,
    income,
    request,
    payment,
    note,
    // The program's own: not taken in from files, not corrected.
    closing,
    document,
    erasure
};
inline constexpr std::size_t kind_count = 29;

/// What a column may hold; see check_format in the intake room for what each type refuses.
enum class column_type : std::uint8_t {
    id,          ///< text without spaces at its ends
    text,        ///< any text; spaces are data
    date,        ///< 2026-05-14
    time,        ///< 08:30
    positive,    ///< decimal above 0
    nonnegative, ///< decimal, 0 or more
    amount,      ///< money, 0 or more, at most two decimals
    credit,      ///< money, below 0 too, at most two decimals
    count,       ///< whole number from 1
    month,       ///< whole number from 1 to 12
    word         ///< one of a closed list
};

struct column {
    std::string_view name;
    column_type type = column_type::text;
    bool required = false;
    std::span<const std::string_view> words = {}; ///< for column_type::word
    std::optional<kind> names = std::nullopt;     ///< the kind of record whose id it holds
    bool shared = false;                          ///< the same in every row of one record
    bool personal = false;                        ///< kept apart so that it can be erased; hashed as a salted digest
};

/// One kind of record: its file, its columns, which of them are its key.
struct kind_info {
    kind which;
    std::string_view name; ///< "bundle"
    std::string_view file; ///< "bundles": the table, and the CSV file less its ending
    std::span<const column> columns;
    std::size_t key_columns = 1;                       ///< the key is the first one or two of key
    std::array<std::size_t, 2> key = {0, 0};           ///< indices of the key's columns
    std::optional<std::size_t> date_column;            ///< gives the entry's effective date
    std::span<const std::string_view> worked_out = {}; ///< whole numbers kept beside the text
    bool internal = false; ///< written by the program alone: a closing, a document's hash, an erasure

    [[nodiscard]] std::size_t index_of(std::string_view column_name) const;
    [[nodiscard]] std::optional<std::size_t> find(std::string_view column_name) const;
};

inline constexpr std::size_t most_columns = 16;
inline constexpr std::size_t most_worked_out = 2;

const kind_info& info(kind which);
std::span<const kind_info> all_kinds();
/// Those that a person records, corrects and takes in from files.
std::span<const kind_info> recorded_kinds();
/// By the kind's name or its file's: "bundle" or "bundles".
const kind_info* find_kind(std::string_view name);

/// One record's values in the order of its kind's columns. An empty text is "not given".
struct row {
    kind which{};
    std::array<std::string_view, most_columns> cells{};
    std::array<std::optional<std::int64_t>, most_worked_out> worked_out{};

    [[nodiscard]] std::string_view operator[](std::size_t column_index) const { return cells[column_index]; }
};

/// The key of a row as one text; the parts of a key of two are set apart by U+001F.
std::string key_of(const row& record);
/// The same for reading: "R00004 2".
std::string key_for_people(const row& record);

} // namespace tarewell::ledger
