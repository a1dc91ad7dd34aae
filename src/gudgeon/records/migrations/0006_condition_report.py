import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    """Condition reports are issued beside records, each counted on its own, and answered by the owner."""

    dependencies = [
        ('records', '0005_leak_flows'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='issuedrecord',
            name='issued_revision',
        ),
        migrations.AddField(
            model_name='issuedrecord',
            name='kind',
            field=models.CharField(default='record', max_length=40),
        ),
        migrations.AddConstraint(
            model_name='issuedrecord',
            constraint=models.UniqueConstraint(fields=('job', 'kind', 'revision'), name='issued_revision'),
        ),
        migrations.CreateModel(
            name='OwnerAnswer',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField()),
                ('device', models.CharField(blank=True, default='', max_length=64)),
                ('key', models.CharField(max_length=64)),
                ('answer', models.CharField(max_length=20)),
                ('given', models.DateField()),
                ('words', models.TextField(blank=True, default='')),
                ('by', models.ForeignKey(db_column='by', null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='records.person', to_field='initials')),
                ('report', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='answers', to='records.issuedrecord')),
            ],
            options={
                'db_table': 'owner_answer',
                'abstract': False,
                'base_manager_name': 'objects',
                'default_manager_name': 'objects',
                'constraints': [models.UniqueConstraint(fields=('report', 'key'), name='owner_answer_once')],
            },
        ),
    ]
