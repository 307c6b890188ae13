#include "serve/guard.h"

#include <gtest/gtest.h>

#include "serve/router.h"

namespace stickwright {
namespace {

const Door kDesk{8765, false, {}}, kLan{8765, true, {"192.168.1.5", "workshop", "workshop.local", "fd00::2"}};

std::string code(const Knock& knock, const Door& door = kDesk) {
  const auto problem = why_refused(knock, door);
  return problem ? problem->code : "let in";
}

Knock get(const std::string& path, const std::string& host = "127.0.0.1:8765") {
  Knock knock;
  knock.method = "GET";
  knock.path = path;
  knock.host = host;
  return knock;
}

Knock post(const std::string& path) {
  Knock knock = get(path);
  knock.method = "POST";
  knock.origin = "http://127.0.0.1:8765";
  knock.content_type = "application/json";
  return knock;
}

Knock from_network(Knock knock) {
  knock.loopback = false;
  knock.host = "192.168.1.5:8765";
  if (knock.origin) knock.origin = "http://192.168.1.5:8765";
  return knock;
}

TEST(Guard, AnswersToTheNamesOfThisMachineOnly) {
  for (const char* host : {"127.0.0.1:8765", "localhost:8765", "LOCALHOST:8765", "[::1]:8765"})
    EXPECT_EQ(code(get("/", host)), "let in") << host;
  for (const char* host :
       {"evil.example:8765", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:87650", "127.0.0.1.evil.example:8765",
        "192.168.1.5:8765", "", "evil@127.0.0.1:8765", "localhost:8765 "})
    EXPECT_EQ(code(get("/", host)), "wrong_host") << host;
  Knock nameless = get("/");
  nameless.host.reset();
  EXPECT_EQ(code(nameless), "wrong_host");
}

TEST(Guard, WithLanItAnswersToItsAddressesAndNamesToo) {
  for (const char* host :
       {"192.168.1.5:8765", "workshop:8765", "Workshop.local:8765", "[fd00::2]:8765", "127.0.0.1:8765"})
    EXPECT_EQ(code(get("/", host), kLan), "let in") << host;
  EXPECT_EQ(code(get("/", "192.168.1.6:8765"), kLan), "wrong_host");
  EXPECT_EQ(code(get("/", "fd00::2:8765"), kLan), "wrong_host");
}

TEST(Guard, AtPort80TheNameMayStandAlone) {
  EXPECT_EQ(code(get("/", "localhost"), {80, false, {}}), "let in");
}

TEST(Guard, OtherSitesAreRefusedWhateverTheyAsk) {
  for (const char* origin : {"http://evil.example", "null", "https://127.0.0.1:8765", "http://127.0.0.1:8766",
                             "http://localhost:8765", "http://127.0.0.1:8765/", ""}) {
    for (Knock knock : {get("/api/folder"), post("/api/pair"), get("/")}) {
      knock.origin = origin;
      EXPECT_EQ(code(knock), "foreign_origin") << origin << knock.path;
    }
  }
}

TEST(Guard, ABrowserThatSaysAnotherSiteAskedIsBelieved) {
  for (const char* site : {"cross-site", "same-site"}) {
    Knock knock = get("/api/folder");
    knock.fetch_site = site;
    EXPECT_EQ(code(knock), "foreign_origin") << site;
    knock = post("/api/pair");
    knock.fetch_site = site;
    EXPECT_EQ(code(knock), "foreign_origin") << site;
    knock = get("/");  // somebody followed a link
    knock.fetch_site = site;
    EXPECT_EQ(code(knock), "let in") << site;
  }
}

TEST(Guard, WhoChangesSomethingSaysWhereFrom) {
  Knock knock = post("/api/pair");
  knock.origin.reset();
  EXPECT_EQ(code(knock), "foreign_origin");
  knock.fetch_site = "same-origin";
  EXPECT_EQ(code(knock), "let in");
  knock.fetch_site = "none";
  EXPECT_EQ(code(knock), "let in");
}

// The types that a form of another site can send without asking first: Fetch Standard, CORS-safelisted request-header.
TEST(Guard, WhoChangesSomethingSendsJson) {
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "",
                           "text/plain; application/json", "application/jsonp"}) {
    for (const char* method : {"POST", "DELETE", "PUT"}) {
      Knock knock = post("/api/pair");
      knock.method = method;
      knock.content_type = type;
      EXPECT_EQ(code(knock), "not_json") << method << " " << type;
    }
  }
  Knock knock = post("/api/pair");
  knock.content_type = "Application/JSON ; charset=utf-8";
  EXPECT_EQ(code(knock), "let in");
  knock.content_type.reset();
  EXPECT_EQ(code(knock), "not_json");
}

TEST(Guard, FromTheNetworkOnlyThePageAndPairingAreOpenWithoutAToken) {
  for (const char* path : {"/", "/assets/index-4f9a21bc.js", "/api/pairing/needed"})
    EXPECT_EQ(code(from_network(get(path)), kLan), "let in") << path;
  EXPECT_EQ(code(from_network(post("/api/pair")), kLan), "let in");
  for (const char* path :
       {"/api", "/api/", "/api/folder", "/api/pairing", "/api/pair/x", "/api/jobs/1/events", "/api/nix"})
    EXPECT_EQ(code(from_network(get(path)), kLan), "not_paired") << path;
  EXPECT_EQ(code(from_network(post("/api/pairing/renew")), kLan), "not_paired");
  Knock paired = from_network(get("/api/folder"));
  paired.paired = true;
  EXPECT_EQ(code(paired, kLan), "let in");
}

TEST(Guard, ATokenIsFoundAmongOtherCookies) {
  EXPECT_EQ(token_in("token=abc"), "abc");
  EXPECT_EQ(token_in("a=b; token=abc; c=d"), "abc");
  EXPECT_EQ(token_in("atoken=x;token=abc"), "abc");
  for (const char* none : {"", ";", "token", "xtoken=abc", "a=token=abc"}) EXPECT_EQ(token_in(none), "") << none;
}

TEST(Router, TakesATargetApart) {
  const auto target = read_target("/api/jobs/a%2Fb?name=spring%20one/batch.toml&x=1+2&x=3&flag");
  ASSERT_TRUE(target);
  EXPECT_EQ(target->parts, (std::vector<std::string>{"api", "jobs", "a/b"}));
  EXPECT_EQ(target->query.at("name"), "spring one/batch.toml");
  EXPECT_EQ(target->query.at("x"), "1 2");
  EXPECT_EQ(target->query.at("flag"), "");
  EXPECT_EQ(read_target("/")->path(), "/");
  EXPECT_EQ(read_target("/?a=b")->path(), "/");
  EXPECT_EQ(read_target("/a/")->path(), "/a/");
}

TEST(Router, RefusesWhatIsNoPath) {
  for (const char* target :
       {"", "*", "http://127.0.0.1/", "a", "/%", "/%4", "/%zz", "/%00", "/a?b=%00", "/%0d%0aX: y", "/a?%1"})
    EXPECT_FALSE(read_target(target)) << target;
}

TEST(Router, WordsGoBeforeSlotsAndHeadGoesToGet) {
  const Handler nothing = [](Workbench&, const Call&) { return Reply{}; };
  const std::vector<Route> routes = {
      {"GET", "/api/jobs/{id}", nothing}, {"GET", "/api/jobs/all", nothing}, {"DELETE", "/api/jobs/{id}", nothing}};
  const auto find = [&](const char* method, const char* path) {
    return find_route(routes, method, *read_target(path));
  };
  EXPECT_EQ(find("GET", "/api/jobs/all").route, &routes[1]);
  EXPECT_EQ(find("GET", "/api/jobs/7").slots.at("id"), "7");
  EXPECT_EQ(find("HEAD", "/api/jobs/7").route, &routes[0]);
  EXPECT_EQ(find("POST", "/api/jobs/7").route, nullptr);
  EXPECT_EQ(find("POST", "/api/jobs/7").allowed, "DELETE, GET, HEAD");
  EXPECT_EQ(find("GET", "/api/jobs").allowed, "");
}

}  // namespace
}  // namespace stickwright
