"""How long lists are handed out: by key, so that a page never skips or repeats a row."""

from rest_framework.pagination import CursorPagination


class ByKey(CursorPagination):
    """Pages in the order of the primary key, up to 500 rows each."""

    ordering = "pk"
    page_size = 100
    page_size_query_param = "limit"
    max_page_size = 500
