#pragma once
#include <SQLiteCpp/SQLiteCpp.h>
#include <openssl/sha.h>

#include <set>
#include <string>
#include <vector>

namespace tarewell::tests {

/// The journal's hash chain worked out again from the file alone: by SQL, the tables' own order of
/// columns and OpenSSL's one-shot SHA-256, with none of the library's code. The form:
/// a field is "length:text," or "-," for none; an act's digest is that of its fields; an entry's hash is
/// that of the hash before it (32 zero bytes at first), the act's digest, the fields seq, kind, deed,
/// replaces, effective and line, then the row's columns in their order, seq left out.
class chain_again {
  public:
    explicit chain_again(const std::string& path) : database_{path, SQLite::OPEN_READONLY} {}

    /// Hashes by entry as worked out, and as the journal has them.
    struct both {
        std::vector<std::string> worked_out, stored;
    };
    both all() {
        both found;
        std::string before(32, '\0');
        SQLite::Statement entries{database_, "SELECT seq, kind, deed, replaces, effective, line, act, hash "
                                             "FROM journal ORDER BY seq"};
        while (entries.executeStep()) {
            std::string message = before + act_digest(entries.getColumn(6).getInt64());
            for (int i = 0; i < 6; ++i)
                message += field(entries.getColumn(i));
            if (entries.getColumn(2).getString() != "void")
                message += row_fields(entries.getColumn(1).getString(), entries.getColumn(0).getInt64());
            before = digest(message);
            found.worked_out.push_back(before);
            found.stored.push_back(entries.getColumn(7).getString());
        }
        return found;
    }

    /// The digest that a grower's row holds of the contact details beside it, in lower hex.
    std::string contact_digest(std::int64_t seq) {
        SQLite::Statement contact{database_, "SELECT salt, name, farm, email, phone FROM contact WHERE seq = ?"};
        contact.bind(1, seq);
        contact.executeStep();
        std::string message;
        for (int i = 0; i < 5; ++i)
            message += field(contact.getColumn(i));
        static constexpr char digits[] = "0123456789abcdef";
        std::string hex;
        for (const char byte : digest(message)) {
            hex += digits[static_cast<unsigned char>(byte) >> 4U];
            hex += digits[static_cast<unsigned char>(byte) & 15U];
        }
        return hex;
    }
    std::string text(const std::string& sql) { return database_.execAndGet(sql).getString(); }

  private:
    static std::string digest(const std::string& message) {
        unsigned char bytes[SHA256_DIGEST_LENGTH];
        SHA256(reinterpret_cast<const unsigned char*>(message.data()), message.size(), bytes);
        return {reinterpret_cast<const char*>(bytes), sizeof bytes};
    }
    static std::string field(const SQLite::Column& column) {
        if (column.isNull()) return "-,";
        const auto text = column.getString();
        return std::to_string(text.size()) + ":" + text + ",";
    }
    std::string act_digest(std::int64_t act) {
        SQLite::Statement found{database_, "SELECT act, at, who, command, reason, once, source, source_sha256 "
                                           "FROM act WHERE act = ?"};
        found.bind(1, act);
        found.executeStep();
        std::string message;
        for (int i = 0; i < found.getColumnCount(); ++i)
            message += field(found.getColumn(i));
        return digest(message);
    }
    std::string row_fields(const std::string& kind, std::int64_t seq) {
        SQLite::Statement row{database_, select_of(kind)};
        row.bind(1, seq);
        row.executeStep();
        std::string message;
        for (int i = 1; i < row.getColumnCount(); ++i) {
            const auto column = row.getColumn(i);
            const std::string name = column.getName();
            if (!came_later(kind, name))
                message += field(column);
            else if (!column.isNull())
                message += std::to_string(name.size()) + ":" + name + "," + field(column);
        }
        return message;
    }
    /// schema/README.md, "What is hashed": by name, and only where they are given.
    static bool came_later(const std::string& kind, const std::string& column) {
        static const std::set<std::pair<std::string, std::string>> later{
            {"cost", "base"},         {"cost", "purpose"},      {"cost", "site"},           {"cost", "shipment"},
            {"cost", "disallows"},    {"inkind", "category"},   {"inkind", "purpose"},      {"income", "shipment"},
            {"acceptance", "reason"}, {"acceptance", "price"},  {"acceptance", "charge"},   {"acceptance", "per"},
            {"closing", "early"},     {"closing", "withdrawn"}, {"acceptance", "received"}, {"acceptance", "rejected"},
            {"closing", "over_open"}};
        return later.contains({kind, column});
    }
    static std::string select_of(const std::string& kind) {
        static constexpr const char* unchanged[] = {"award", "budget", "inkind", "income", "narrative"};
        for (const auto* name : unchanged)
            if (kind == name) return "SELECT * FROM " + kind + " WHERE seq = ?";
        return "SELECT * FROM " + kind + "s WHERE seq = ?";
    }

    SQLite::Database database_;
};

} // namespace tarewell::tests
