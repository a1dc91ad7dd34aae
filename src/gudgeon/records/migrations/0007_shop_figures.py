from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0006_condition_report'),
    ]

    operations = [
        migrations.AddField(
            model_name='shop',
            name='hours',
            field=models.TextField(default='{}'),
            preserve_default=False,
        ),
    ]
