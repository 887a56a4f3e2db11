"""The pages and papers of panel directories, and the customer's own page."""

from django.urls import path

from panels.views import customer, directory

urlpatterns = [
    path("panels/<uuid:pk>/directory/", directory.page, name="directory"),
    path("panels/<uuid:pk>/directory/issue/", directory.issue, name="directory-issue"),
    path("panels/<uuid:pk>/directory/code/", directory.new_code, name="directory-code"),
    path("panels/<uuid:pk>/directory/code/end/", directory.end_code, name="directory-code-end"),
    path("panels/<uuid:pk>/directory/preview.svg", directory.preview, name="directory-preview"),
    path("directories/<uuid:pk>/letter.pdf", directory.letter, name="directory-letter"),
    path("directories/<uuid:pk>/card.pdf", directory.card, name="directory-card"),
    path("directories/<uuid:pk>/letter.svg", directory.picture, name="directory-picture"),
    path("sites/<uuid:pk>/directories.pdf", directory.whole_site, name="site-directories"),
    path("sites/<uuid:pk>/customer-link/", directory.customer_link, name="customer-link"),
    path("home/<str:token>/", customer.page, name="customer-page"),
    path("home/<str:token>/directories.pdf", customer.directories, name="customer-directories"),
]
