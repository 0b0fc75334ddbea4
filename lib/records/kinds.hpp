#pragma once
#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::records {

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
    confirmation,
    map_rule,
    merge,
    // The program's own: not taken in from files, not corrected.
    closing,
    document,
    erasure
};
inline constexpr std::size_t kind_count = 32;

/// A place in the journal: entries are numbered from 1 without gaps. 0 stands for "none".
using entry_no = std::int64_t;

/// What every record carries: its entry in force, and its place in the order of entry (a correction
/// keeps the place of what it corrects).
struct recorded {
    entry_no entry = 0;
    entry_no order = 0;
};

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

struct row;
struct season;
class complaints;

struct column {
    std::string_view name;
    column_type type = column_type::text;
    bool required = false;
    std::span<const std::string_view> words = {}; ///< for column_type::word
    std::optional<kind> names = std::nullopt;     ///< the kind of record whose id it holds
    bool shared = false;                          ///< the same in every row of one record
    bool personal = false;                        ///< kept apart so that it can be erased; hashed as a salted digest
    bool later = false;     ///< came after its kind: stands last, hashed as name and value where it is given
    bool together = false;  ///< rules look at the other records of this kind that name the same one
    bool looked_at = false; ///< rules look at the values of the record that it names, not only that it is there
    kind (*names_by)(const row& values) = nullptr; ///< where the row itself says what kind it names
};

/// How a whole number follows from a row's texts.
enum class whole_number : std::uint8_t {
    thousandths,     ///< of the award's unit: a weight and its unit
    cents,           ///< an amount
    cents_or_product ///< an amount, or where it isn't given quantity x rate
};

/// A whole number kept beside the text, worked out once when a row comes in.
struct worked_out_number {
    std::string_view name;
    whole_number how{};
    std::array<std::size_t, 3> from{}; ///< its columns
};

/// Told the place of a column that names what nothing defines.
using missing = std::function<void(std::size_t column)>;

/// A complaint of a record that was taken in already, by its place in its kind's vector.
struct late_complaint {
    std::size_t place;
    std::string_view column;
    std::string what, right;
};

/// One kind of record: its file, its columns, which of them are its key, and what its records do.
struct kind_info {
    kind which{};
    std::string_view name; ///< "bundle"
    std::string_view file; ///< "bundles": the table, and the CSV file less its ending
    std::span<const column> columns;
    std::size_t key_columns = 1;             ///< the key is the first one or two of key
    std::array<std::size_t, 2> key = {0, 0}; ///< indices of the key's columns
    std::optional<std::size_t> date_column;  ///< gives the entry's effective date
    std::span<const worked_out_number> worked_out;
    bool internal = false;   ///< written by the program alone: a closing, a document's hash, an erasure
    bool in_season = false;  ///< one of the files of a season's folder
    bool under_award = true; ///< its records are counted or checked in the award's terms
    bool moves_all = false;  ///< a change of it may break any other record's rules
    bool seen_whole = false; ///< its rules look at all records of the kind

    /// Holds a row to its kind's rules. Ids that nothing defines are complained of, too.
    void (*check)(const row& values, const season& before, complaints& say) = nullptr;
    /// Adds a row to a season; `lost` hears of ids that nothing defines, and nothing is added then.
    void (*add)(season& to, const row& values, recorded by, const missing& lost) = nullptr;

    /// What only the whole of a file tells; null for most kinds. Rows from `first_new` on came with it.
    std::vector<late_complaint> (*check_all)(const season& with, std::size_t first_new) = nullptr;

    [[nodiscard]] std::size_t index_of(std::string_view column_name) const;
    [[nodiscard]] std::optional<std::size_t> find(std::string_view column_name) const;
    /// As a file's header writes it: whatever its case.
    [[nodiscard]] std::optional<std::size_t> find_in_header(std::string_view column_name) const;
    [[nodiscard]] bool has_personal_columns() const;
    [[nodiscard]] bool is_key(std::size_t column_index) const;
    [[nodiscard]] bool has_shared_columns() const;
    /// What people call a record of it where its id is meant: a cover's id is its registration's.
    [[nodiscard]] std::string_view called() const;
};

inline constexpr std::size_t most_columns = 16;
inline constexpr std::size_t most_worked_out = 2;

const kind_info& info(kind which);
std::span<const kind_info> all_kinds();
/// Those that a person records, corrects and takes in from files.
std::span<const kind_info> recorded_kinds();
/// By the kind's name or its file's: "bundle" or "bundles".
const kind_info* find_kind(std::string_view name);
/// Equal as ASCII letters go.
bool same_but_for_case(std::string_view a, std::string_view b);

/// One record's values in the order of its kind's columns. An empty text is "not given".
struct row {
    kind which{};
    std::array<std::string_view, most_columns> cells{};
    std::array<std::optional<std::int64_t>, most_worked_out> worked_out{};

    [[nodiscard]] std::string_view operator[](std::size_t column_index) const { return cells[column_index]; }
    /// By the column's name; throws std::logic_error where the kind has none of it.
    [[nodiscard]] std::string_view operator[](std::string_view column_name) const {
        return cells[info(which).index_of(column_name)];
    }
    /// The text must outlive the row.
    void set(std::string_view column_name, std::string_view text) { cells[info(which).index_of(column_name)] = text; }
};

/// The kind whose record a column of this row names; none where it names none, or is empty.
std::optional<kind> kind_named(const column& by, const row& values);

/// Words and units as they are told: read whatever their case, units also as lbs and kgs.
void tell_words(row& values);

/// The key of a row as one text; the parts of a key of two are set apart by U+001F.
std::string key_of(const row& record);
/// The same for reading: "R00004 2".
std::string key_for_people(const row& record);

/// Works out a row's whole numbers; the form of its texts is good.
void work_out(row& values, const season& under);

/// The contact details of a row were erased on request: its required personal columns are empty.
bool is_erased(const row& stored);

} // namespace tarewell::records
