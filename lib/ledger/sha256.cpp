#include "ledger/sha256.hpp"

#include <openssl/evp.h>

#include <charconv>
#include <new>

namespace tarewell::ledger {

struct sha256::context {
    EVP_MD_CTX* state = EVP_MD_CTX_new();
    // EVP_sha256() would be looked up anew for each message.
    EVP_MD* algorithm = EVP_MD_fetch(nullptr, "SHA256", nullptr);
    context() = default;
    ~context() {
        EVP_MD_CTX_free(state);
        EVP_MD_free(algorithm);
    }
    context(const context&) = delete;
    context& operator=(const context&) = delete;
};

sha256::sha256() : context_{std::make_unique<context>()} {
    if (context_->state == nullptr || context_->algorithm == nullptr) throw std::bad_alloc{};
}

sha256::~sha256() = default;

namespace {
/// libcrypto fails where it gets no memory; a digest made all the same would be of nothing.
void must(int outcome) {
    if (outcome != 1) throw std::bad_alloc{};
}
} // namespace

void sha256::begin() { must(EVP_DigestInit_ex(context_->state, context_->algorithm, nullptr)); }

void sha256::add(std::string_view part) { must(EVP_DigestUpdate(context_->state, part.data(), part.size())); }

digest sha256::end() {
    digest value{};
    must(EVP_DigestFinal_ex(context_->state, value.data(), nullptr));
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
