#pragma once
#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace tarewell::ledger {

using digest = std::array<unsigned char, 32>;

/// SHA-256 (FIPS 180-4) by OpenSSL's libcrypto, with its context kept between messages.
class sha256 {
  public:
    sha256();
    ~sha256();
    sha256(const sha256&) = delete;
    sha256& operator=(const sha256&) = delete;
    digest of(std::string_view message);
    void begin();
    void add(std::string_view part);
    digest end();

  private:
    struct context;
    std::unique_ptr<context> context_;
};

std::string hex(const digest& value);
std::string_view bytes(const digest& value);

/// Appends a field so that no two lists of fields give the same bytes: "5:value," or "-," for none.
void add_field(std::string& message, std::string_view field);
void add_number(std::string& message, std::int64_t number);
void add_none(std::string& message);

} // namespace tarewell::ledger
