"""The WSGI door, for waitress and any other server."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachbook.settings")

application = get_wsgi_application()
