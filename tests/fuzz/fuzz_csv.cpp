// Feeds any bytes to the CSV reader and the format check. What the reader accepts must be what a simple
// splitter of RFC 4180 (below, written apart from it) gives, and nothing it refuses may be well formed.
#include "intake/csv.hpp"
#include "intake/format_check.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <utility>

using namespace tarewell;

namespace {

using csv_rows = std::vector<std::vector<std::string>>;

/// RFC 4180, section 2: one character at a time, every place it may be in as a state. Empty when the
/// text breaks the form; LF alone ends a record too.
std::optional<csv_rows> split(std::string_view text) {
    enum class place { start_of_field, plain, quoted, after_quote };
    csv_rows all;
    std::vector<std::string> record;
    std::string field;
    place at = place::start_of_field;
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (at == place::quoted) {
            if (c == '"')
                at = place::after_quote;
            else
                field += c;
        } else if (c == '"' && at != place::plain) {
            if (at == place::after_quote) field += c;
            at = place::quoted;
        } else if (c == ',') {
            record.push_back(std::exchange(field, {}));
            at = place::start_of_field;
        } else if (c == '\n' || (c == '\r' && text.substr(i, 2) == "\r\n")) {
            if (c == '\r') ++i;
            record.push_back(std::exchange(field, {}));
            all.push_back(std::exchange(record, {}));
            at = place::start_of_field;
        } else if (c == '"' || c == '\r' || at == place::after_quote) {
            return std::nullopt;
        } else {
            field += c;
            at = place::plain;
        }
    }
    if (at == place::quoted) return std::nullopt;
    // A last record needs no line end; after one nothing more begins.
    if (at != place::start_of_field || !record.empty()) {
        record.push_back(field);
        all.push_back(record);
    }
    return all;
}

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "the reader and the splitter differ: %s\n", what);
    std::abort();
}

/// Any kind's columns may stand over any values: neither may bring the check down.
void check_values(const std::vector<std::string_view>& fields, std::size_t number) {
    records::row values;
    values.which = static_cast<records::kind>(number % records::kind_count);
    for (std::size_t i = 0; i < fields.size() && i < records::most_columns; ++i)
        values.cells[i] = fields[i];
    bool complained = false;
    const bool good =
        intake::check_format(values, [&](std::string_view column, const std::string& what, const std::string& right) {
            need(!column.empty() && !what.empty() && !right.empty(), "a complaint without a place, what or right");
            complained = true;
        });
    need(good != complained, "check_format's answer and its complaints");
}

void compare_with_splitter(std::string_view text) {
    const auto simple = split(text);
    intake::csv_reader reader{text};
    intake::csv_record record;
    std::optional<intake::csv_fault> fault;
    bool broken = false;
    std::size_t number = 0, line = 0;
    while (reader.next(record, fault)) {
        need(record.line > line, "lines do not count up");
        line = record.line;
        if (fault) {
            need(!fault->what.empty() && !fault->right.empty(), "a fault without words");
            broken = true;
            continue;
        }
        check_values(record.fields, number);
        if (simple && !broken) {
            need(number < simple->size(), "more records");
            const auto& expected = (*simple)[number];
            need(std::equal(expected.begin(), expected.end(), record.fields.begin(), record.fields.end()), "fields");
        }
        ++number;
    }
    need(reader.position() == text.size(), "the end was not reached");
    need(broken == !simple, "one accepts what the other refuses");
    need(broken || number == simple->size(), "number of records");
}

/// What we write as one field is read back as that field, apostrophe apart.
void check_round_trip(std::string_view text) {
    const auto written = intake::csv_field(text);
    // Not at the beginning of the file, where a byte order mark would be passed over.
    const auto read = split("id," + written + "\n");
    need(read && read->size() == 1 && read->front().size() == 2, "a written field is not one field");
    const std::string& back = read->front()[1];
    need(back == text || back == "'" + std::string{text}, "a written field comes back changed");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    intake::fault_of_file(text);
    const auto bad = intake::first_bad_byte(text);
    need(bad == std::string_view::npos || bad < size, "a bad byte past the end");
    compare_with_splitter(text);
    check_round_trip(text);
    return 0;
}
