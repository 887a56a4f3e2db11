"""The pages of the firm's room."""

from django.urls import URLPattern, URLResolver, include, path

from contractor.views import (
    account,
    begin,
    customers,
    duplicates,
    firm,
    history,
    home,
    imports,
    look,
    papers,
    passwords,
    people,
    second_factor,
    sign_in,
    sites,
)

doors: list[URLPattern] = [
    path("begin/", begin.begin, name="begin"),
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-in/code/", sign_in.code, name="sign-in-code"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("password/forgotten/", passwords.forgotten, name="password-forgotten"),
    path("password/sent/", passwords.sent, name="password-sent"),
    path("password/<uidb64>/<token>/", passwords.set_password, name="password-set"),
]
account_pages: list[URLPattern] = [
    path("", account.account, name="account"),
    path("details/", account.details, name="account-details"),
    path("password/", account.password, name="account-password"),
    path("elsewhere/", account.elsewhere, name="sign-out-elsewhere"),
    path("code/", second_factor.scan, name="code-scan"),
    path("code/renew/", second_factor.renew, name="code-renew"),
    path("code/off/", second_factor.turn_off, name="code-off"),
    path("devices/add/", account.add_device, name="device-add"),
    path("devices/<slug:token_key>/", account.revoke_device, name="device-revoke"),
]
people_pages: list[URLPattern] = [
    path("", people.people, name="people"),
    path("add/", people.add_person, name="person-add"),
    path("<uuid:pk>/", people.person, name="person"),
    path("<uuid:pk>/change/", people.change_person, name="person-change"),
    path("<uuid:pk>/invite/", people.invite, name="person-invite"),
    path("<uuid:pk>/code/off/", people.code_off, name="person-code-off"),
    path("<uuid:pk>/<slug:kind>/add/", papers.paper, name="paper-add"),
    path("<uuid:pk>/<slug:kind>/<int:key>/", papers.paper, name="paper-change"),
    path("<uuid:pk>/<slug:kind>/<int:key>/remove/", papers.remove_paper, name="paper-remove"),
]
customer_pages: list[URLPattern] = [
    path("", customers.customers, name="customers"),
    path("add/", customers.add_customer, name="customer-add"),
    path("customers.csv", imports.export, name="customers-export"),
    path("import/", imports.upload, name="import"),
    path("import/example.csv", imports.example, name="import-example"),
    path("import/<uuid:pk>/", imports.preview, name="import-preview"),
    path("import/<uuid:pk>/take/", imports.take, name="import-take"),
    path("duplicates/", duplicates.duplicates, name="duplicates"),
    path("<uuid:pk>/", customers.customer, name="customer"),
    path("<uuid:pk>/change/", customers.change_customer, name="customer-change"),
    path("<uuid:pk>/remove/", customers.remove_customer, name="customer-remove"),
    path("<uuid:pk>/sites/add/", sites.add_site, name="site-add"),
    path("<uuid:keep>/with/<uuid:drop>/", duplicates.compare, name="customers-compare"),
    path("<uuid:one>/not/<uuid:other>/", duplicates.tell_apart, name="customers-apart"),
]
site_pages: list[URLPattern] = [
    path("", sites.sites, name="sites"),
    path("<uuid:pk>/", sites.site, name="site"),
    path("<uuid:pk>/change/", sites.change_site, name="site-change"),
    path("<uuid:pk>/remove/", sites.remove_site, name="site-remove"),
    path("<uuid:pk>/links/<uuid:link>/", sites.revoke_link, name="link-revoke"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("start/", begin.start, name="start"),
    path("", include(doors)),
    path("light/", look.light, name="light"),
    path("look/", look.look, name="look"),
    path("account/", include(account_pages)),
    path("firm/", firm.firm, name="firm"),
    path("lists/<slug:kind>/", firm.entries, name="entries"),
    path("lists/<slug:kind>/add/", firm.entry, name="entry-add"),
    path("lists/<slug:kind>/<int:pk>/", firm.entry, name="entry-change"),
    path("people/", include(people_pages)),
    path("crews/add/", people.crew, name="crew-add"),
    path("crews/<int:pk>/", people.crew, name="crew"),
    path("customers/", include(customer_pages)),
    path("sites/", include(site_pages)),
    path("history/<slug:key>/<slug:pk>/", history.history, name="history"),
]
