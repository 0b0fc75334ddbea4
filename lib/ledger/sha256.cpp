#include "ledger/sha256.hpp"

// The digest alone: the interface that looks algorithms up sets up all of libcrypto first, a sixth of what it takes to
// record a ticket. These functions are there in every version since 0.9.
#define OPENSSL_SUPPRESS_DEPRECATED
#include <openssl/sha.h>

#include <charconv>

namespace tarewell::ledger {

struct sha256::context {
    SHA256_CTX state{};
};

sha256::sha256() : context_{std::make_unique<context>()} {}

sha256::~sha256() = default;

void sha256::begin() { SHA256_Init(&context_->state); }

void sha256::add(std::string_view part) { SHA256_Update(&context_->state, part.data(), part.size()); }

digest sha256::end() {
    digest value{};
    SHA256_Final(value.data(), &context_->state);
    return value;
}

digest sha256::of(std::string_view message) {
    begin();
    add(message);
    return end();
}

std::string hex(const digest& value) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const unsigned char byte : value) {
        text += digits[byte >> 4U];
        text += digits[byte & 15U];
    }
    return text;
}

std::string_view bytes(const digest& value) { return {reinterpret_cast<const char*>(value.data()), value.size()}; }

namespace {
void append_integer(std::string& message, std::int64_t number) {
    char digits[24];
    const auto written = std::to_chars(digits, digits + sizeof digits, number);
    message.append(digits, written.ptr);
}
} // namespace

void add_field(std::string& message, std::string_view field) {
    append_integer(message, static_cast<std::int64_t>(field.size()));
    message += ':';
    message += field;
    message += ',';
}

void add_number(std::string& message, std::int64_t number) {
    char digits[24];
    const auto written = std::to_chars(digits, digits + sizeof digits, number);
    add_field(message, {digits, static_cast<std::size_t>(written.ptr - digits)});
}

void add_none(std::string& message) { message += "-,"; }

} // namespace tarewell::ledger
