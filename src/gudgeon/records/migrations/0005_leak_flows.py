from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0004_photograph'),
    ]

    operations = [
        migrations.AddField(
            model_name='leaktest',
            name='flows',
            field=models.TextField(default='[]'),
            preserve_default=False,
        ),
    ]
